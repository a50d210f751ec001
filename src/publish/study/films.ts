import { z } from 'zod'
import type { FilmFacts } from '../clip/filmFacts.ts'
import { type Sync, syncSchema } from '../sync/document.ts'

/** A film that recordings of a study lie in, as it is kept with the study. */
export interface KeptFilm {
  /** Its clip's name tells films apart. */
  readonly sync: Sync
  /** Size and frames, where they are known and come at one rate; others are read again from the film. */
  readonly frames: FilmFacts | null
}

/** A film as it is written: in the store, and in `study.json` of a data package. */
export const filmSchema = z.object({
  sync: syncSchema,
  frames: z
    .object({
      width: z.int().positive(),
      height: z.int().positive(),
      times: z.object({
        kind: z.literal('steady'),
        rate: z.object({ num: z.int().positive(), den: z.int().positive() }),
        count: z.int().positive(),
      }),
    })
    .nullable(),
})
const keptSchema = z.object({ version: z.literal(1), films: z.array(z.unknown()) })

/** More films than anybody makes of one study. */
const MOST_FILMS = 20

/** The films that were kept, the last one first; what cannot be understood is passed over. */
export function filmsFrom(kept: unknown): KeptFilm[] {
  const parsed = keptSchema.safeParse(kept)
  if (!parsed.success) return []
  return parsed.data.films.flatMap(one => {
    const film = filmSchema.safeParse(one)
    return film.success ? [film.data] : []
  })
}

/** With a film at their head, in the place of one of the same name. */
export const withFilm = (films: readonly KeptFilm[], film: KeptFilm): KeptFilm[] =>
  [film, ...films.filter(one => one.sync.clip.name !== film.sync.clip.name)].slice(0, MOST_FILMS)

/** As they are kept, version 1. */
export const keptFilms = (films: readonly KeptFilm[]) => ({
  version: 1,
  films: films.map(writtenFilm),
})

export function writtenFilm({ sync, frames }: KeptFilm): z.infer<typeof filmSchema> {
  if (frames?.times.kind !== 'steady') return { sync, frames: null }
  const { width, height, times } = frames
  return { sync, frames: { width, height, times } }
}

/** Films of another copy of the study, after its own; of one that both know its own place counts. */
export const withFilmsOf = (own: readonly KeptFilm[], theirs: readonly KeptFilm[]): KeptFilm[] =>
  [...own, ...theirs.filter(({ sync }) => own.every(known => known.sync.clip.name !== sync.clip.name))].slice(
    0,
    MOST_FILMS,
  )
