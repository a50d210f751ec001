import type { Specimen } from '../../server/apiTypes.ts'
import type { OpenStudy } from '../data/backend.ts'
import { texts } from '../texts/index.ts'
import type { SpecimenEdits } from './useSpecimenEdits.ts'

const t = texts.specimens

/** The recordings of one specimen in the order in which they are joined; any can become a specimen of its own. */
export function LogsOfOne({
  open,
  specimen,
  edits,
}: {
  open: OpenStudy
  specimen: Specimen
  edits: SpecimenEdits
}) {
  const logs = open.recordings.filter(one => one.specimen?.id === specimen.id)
  if (logs.length < 2) return null
  const taken = new Set(open.specimens.map(({ name }) => name))
  let part = t.splitName(specimen.name)
  while (taken.has(part)) part = t.splitName(part)
  const order = (at: number, by: -1 | 1) => {
    const ids = logs.map(({ id }) => id)
    const [moved] = ids.splice(at, 1)
    ids.splice(at + by, 0, moved!)
    void edits.apply(
      [{ kind: 'order-logs', specimenId: specimen.id, recordingIds: ids }],
      t.reordered(specimen.name),
    )
  }
  const split = (id: string) =>
    void edits.apply(
      [{ kind: 'split', specimenId: specimen.id, recordingIds: [id], name: part }],
      t.split(part, specimen.name),
    )
  const press = (text: string, of: string, onClick: () => void, isOff = false) => (
    <button
      type="button"
      className="button button-plain"
      aria-label={`${text}: ${of}`}
      disabled={isOff || edits.isBusy}
      onClick={onClick}
    >
      {text}
    </button>
  )
  return (
    <section aria-label={t.logsOf(specimen.name)}>
      <h3>{t.logsOf(specimen.name)}</h3>
      <ul className="plain-list">
        {logs.map(({ id, name }, at) => (
          <li key={id} className="row">
            <span>{t.logLine(name, at + 1)}</span>
            {press(t.earlier, name, () => order(at, -1), at === 0)}
            {press(t.later, name, () => order(at, 1), at === logs.length - 1)}
            {press(t.splitOff, name, () => split(id))}
          </li>
        ))}
      </ul>
    </section>
  )
}
