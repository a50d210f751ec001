import { useMemo, useState } from 'react'
import { filmsFrom, type KeptFilm, keptFilms, withFilm } from '../../../publish/study/films.ts'
import { useStudyHere, useTold } from '../told.tsx'

/** The films that recordings of the study were placed in. A change is seen at once, and kept as soon as the store has it. */
export function useFilms() {
  const { films: kept } = useTold().told.open.study
  const { change } = useStudyHere()
  const known = useMemo(() => filmsFrom(kept), [kept])
  const [wished, setWished] = useState<readonly KeptFilm[] | null>(null)
  const films = wished ?? known
  return {
    films,
    /** Keeps a film with its places; `done` says what was done, with the way back. */
    put(film: KeptFilm, done: string) {
      const next = withFilm(films, film)
      setWished(next)
      void change({ films: keptFilms(next) }, done).then(() => setWished(now => (now === next ? null : now)))
    },
  }
}
