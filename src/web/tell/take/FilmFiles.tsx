import { useState } from 'react'
import type { Sync } from '../../../publish/sync/document.ts'
import { got } from '../../data/trouble.ts'
import { Answered } from '../../parts/Answered.tsx'
import { Problems } from '../../parts/Problems.tsx'
import { texts } from '../../texts/index.ts'
import { decodedSound } from '../decodedSound.ts'
import { saveFile } from '../saveFile.ts'
import { TaskButton, TaskTrouble, useTasks } from '../task.tsx'
import { useStudyHere, useTold } from '../told.tsx'
import type { Contents } from '../worker/types.ts'
import { ByHand } from './ByHand.tsx'
import { CaptionFiles } from './CaptionFiles.tsx'
import { FilmChooser } from './FilmChooser.tsx'
import { fileName } from './fileName.ts'
import { type Film, lengthOf } from './film.ts'
import { OverlayFile } from './OverlayFile.tsx'
import { Pick } from './Pick.tsx'
import { Placements } from './Placements.tsx'
import { useFilms } from './useFilms.ts'
import { WalkFiles } from './WalkFiles.tsx'

const t = texts.tell

/** Captions, overlay and the walk through one curve; timed to a film where one is given. */
export function FilmFiles({ contents }: { contents: Contents }) {
  const { told, telling } = useTold()
  const { run } = useTasks()
  const { errorOf } = useStudyHere()
  const { films, put } = useFilms()
  // The film that was worked on last, wherever that was.
  const [chosen, setChosen] = useState<string | null>(films[0]?.sync.clip.name ?? null)
  /** The file in hand, whose frames are known to the last. */
  const [inHand, setInHand] = useState<{ readonly film: Film; readonly file: File } | null>(null)
  const kept = films.find(one => one.sync.clip.name === chosen) ?? null
  const sync = kept?.sync ?? null
  const film: Film | null =
    chosen === null
      ? null
      : inHand?.film.name === chosen
        ? inHand.film
        : { name: chosen, facts: kept?.frames ?? null }
  const place = (next: Sync, facts: Film['facts'] = film?.facts ?? null) =>
    put({ sync: next, frames: facts }, t.didPlace(next.clip.name))
  const names = contents.specimens.map(({ name }) => name)
  const [picked, setPicked] = useState<string | null>(null)
  const specimen = picked !== null && names.includes(picked) ? picked : (names[0] ?? '')
  const lengthS = sync?.clip.lengthS ?? lengthOf(film)
  /** A film that was placed before keeps its places until it is listened to again. */
  const take = (file: File, isAgain = false) =>
    run('film-sound', async ({ signal }) => {
      if (telling === null) return
      const facts = await telling.film(file, file.name)
      const own: Film = { name: file.name, facts: facts.ok ? facts.value : null }
      setInHand({ film: own, file })
      setChosen(file.name)
      if (!isAgain && films.some(one => one.sync.clip.name === file.name)) return
      const found = got(await telling.sync(told, file.name, await decodedSound(file)))
      if (!signal.aborted) place(found, own.facts)
    })
  const placed = async (): Promise<Sync> => {
    if (telling === null) throw new Error('there is no thread to place it')
    if (sync?.placements.some(one => one.accepted)) return sync
    return got(await telling.placed(told, specimen, { name: film?.name ?? specimen, lengthS, offsetS: 0 }))
  }
  return (
    <Answered heading={t.film} answer="" level={3}>
      <p className="pencil">{t.filmWhat}</p>
      <FilmChooser film={film} onFile={file => take(file)} onForget={() => setChosen(null)} />
      <TaskTrouble of="film-" />
      {films.length > 0 && (
        <div className="row">
          <Pick
            label={t.filmsBefore}
            value={kept === null ? '' : kept.sync.clip.name}
            from={['', ...films.map(one => one.sync.clip.name)]}
            words={{
              '': t.noFilm,
              ...Object.fromEntries(films.map(({ sync: { clip } }) => [clip.name, clip.name])),
            }}
            onPick={name => setChosen(name === '' ? null : name)}
          />
          {kept !== null && inHand?.film.name === chosen && (
            <button type="button" className="button" onClick={() => take(inHand.file, true)}>
              {t.listenAgain}
            </button>
          )}
        </div>
      )}
      <Problems error={errorOf('films')} />
      {sync && <Placements sync={sync} onChange={next => place(next)} />}
      <div className="row">
        <Pick
          label={t.specimen}
          value={specimen}
          from={names}
          words={Object.fromEntries(names.map(name => [name, name]))}
          onPick={setPicked}
        />
        {film && (
          <ByHand
            film={film}
            specimen={specimen}
            lengthS={lengthS}
            sync={sync}
            onPlace={next => place(next)}
          />
        )}
        {sync && (
          <TaskButton
            name="film-sync"
            work={async () =>
              saveFile(
                fileName(told, '.sync.json'),
                new Blob([`${JSON.stringify(sync, null, 2)}\n`], { type: 'application/json' }),
              )
            }
          >
            {t.saveSync}
          </TaskButton>
        )}
      </div>
      <CaptionFiles placed={placed} />
      <OverlayFile placed={placed} facts={film?.facts ?? null} />
      <WalkFiles specimen={specimen} />
    </Answered>
  )
}
