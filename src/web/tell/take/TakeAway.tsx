import { got } from '../../data/trouble.ts'
import { Guard } from '../../parts/Guard.tsx'
import { Problems } from '../../parts/Problems.tsx'
import { texts } from '../../texts/index.ts'
import { useMade } from '../useMade.ts'
import { FigureFile } from './FigureFile.tsx'
import { FilmFiles } from './FilmFiles.tsx'
import { PackageFile } from './PackageFile.tsx'
import { PageFiles } from './PageFiles.tsx'

const t = texts.tell

/** What can be taken away, each with one click. */
export function TakeAway({
  initials,
  onInitials,
}: {
  initials: boolean
  onInitials: (initials: boolean) => void
}) {
  const { data: contents, error } = useMade('contents', async (telling, told) =>
    got(await telling.contents(told)),
  )
  return (
    <section aria-labelledby="tell-take" className="tell-take not-printed">
      <h2 id="tell-take">{t.take}</h2>
      {(contents?.hasPeople || initials) && (
        <>
          <label>
            <input type="checkbox" checked={initials} onChange={event => onInitials(event.target.checked)} />{' '}
            {t.initials}
          </label>
          {initials && <p className="pencil small">{t.noInitials}</p>}
        </>
      )}
      <Problems error={error} />
      <Guard name={t.page}>
        <PageFiles />
      </Guard>
      {/* What is there at once stands first: what comes later moves no button from under a finger. */}
      <Guard name={t.data}>
        <PackageFile />
      </Guard>
      {contents && contents.figures.length > 0 && (
        <Guard name={t.figure}>
          <FigureFile contents={contents} />
        </Guard>
      )}
      {contents && contents.specimens.length > 0 && (
        <Guard name={t.film}>
          <FilmFiles contents={contents} />
        </Guard>
      )}
    </section>
  )
}
