import { useState } from 'react'
import type { Sync } from '../../../publish/sync/document.ts'
import { got } from '../../data/trouble.ts'
import { texts } from '../../texts/index.ts'
import { decodedSound } from '../decodedSound.ts'
import { saveFile } from '../saveFile.ts'
import { TaskButton, TaskTrouble, useTasks } from '../task.tsx'
import { useTold } from '../told.tsx'
import type { Contents } from '../worker/types.ts'
import { ByHand } from './ByHand.tsx'
import { CaptionFiles } from './CaptionFiles.tsx'
import { FilmChooser } from './FilmChooser.tsx'
import { fileName } from './fileName.ts'
import { type Film, lengthOf } from './film.ts'
import { OverlayFile } from './OverlayFile.tsx'
import { Pick } from './Pick.tsx'
import { Placements } from './Placements.tsx'
import { WalkFiles } from './WalkFiles.tsx'

const t = texts.tell

/** Captions, overlay and the walk through one curve; timed to a film where one is given. */
export function FilmFiles({ contents }: { contents: Contents }) {
  const { told, telling } = useTold()
  const { run } = useTasks()
  const [film, setFilm] = useState<Film | null>(null)
  const [sync, setSync] = useState<Sync | null>(null)
  const names = contents.specimens.map(({ name }) => name)
  const [picked, setPicked] = useState<string | null>(null)
  const specimen = picked !== null && names.includes(picked) ? picked : (names[0] ?? '')
  const lengthS = sync?.clip.lengthS ?? lengthOf(film)
  const listen = (file: File) =>
    run('film-sound', async ({ signal }) => {
      if (telling === null) return
      setSync(null)
      const facts = await telling.film(file, file.name)
      setFilm({ name: file.name, facts: facts.ok ? facts.value : null })
      const found = got(await telling.sync(told, file.name, await decodedSound(file)))
      if (!signal.aborted) setSync(found)
    })
  const placed = async (): Promise<Sync> => {
    if (telling === null) throw new Error('there is no thread to place it')
    if (sync?.placements.some(one => one.accepted)) return sync
    return got(await telling.placed(told, specimen, { name: film?.name ?? specimen, lengthS, offsetS: 0 }))
  }
  return (
    <section aria-labelledby="tell-take-film">
      <h3 id="tell-take-film">{t.film}</h3>
      <p className="pencil">{t.filmWhat}</p>
      <FilmChooser
        film={film}
        onFile={listen}
        onForget={() => {
          setFilm(null)
          setSync(null)
        }}
      />
      <TaskTrouble of="film-" />
      {sync && <Placements sync={sync} onChange={setSync} />}
      <div className="row">
        <Pick
          label={t.specimen}
          value={specimen}
          from={names}
          words={Object.fromEntries(names.map(name => [name, name]))}
          onPick={setPicked}
        />
        {film && <ByHand film={film} specimen={specimen} lengthS={lengthS} sync={sync} onPlace={setSync} />}
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
    </section>
  )
}
