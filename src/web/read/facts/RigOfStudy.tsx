import { useId, useState } from 'react'
import { peakWords } from '../../../core/reading/peakWords.ts'
import { unitOfLog } from '../../../core/units/force.ts'
import type { Edited, Reading } from '../../../server/apiTypes.ts'
import { useMark } from '../../app/units.tsx'
import type { Backend, OpenStudy } from '../../data/backend.ts'
import { useChange, useRigs } from '../../data/queries.ts'
import { Problems } from '../../parts/Problems.tsx'
import { texts } from '../../texts/index.ts'

const words = texts.read.facts

/** The rig that the recordings were made on, said afterwards too: for this specimen or all, with every figure before and after. */
export function RigOfStudy({
  open,
  specimenId,
  edits,
}: {
  open: OpenStudy
  specimenId: string
  edits: NonNullable<Backend['edits']>
}) {
  const id = useId()
  const mark = useMark()
  const { data: rigs = [] } = useRigs()
  const own = open.recordings.filter(({ specimen }) => specimen?.id === specimenId)
  const now = own.find(({ rigId }) => rigId !== null)?.rigId ?? ''
  const [chosen, setChosen] = useState<string | null>(null)
  const saying = useChange<'one' | 'all', Edited>((_, which) => {
    const rigId = (chosen ?? now) || null
    const of = which === 'one' ? own : open.recordings.filter(({ specimen }) => specimen !== null)
    const name = rigs.find(rig => rig.id === rigId)?.name ?? words.noRig
    const what = words.rigSaid(of.length, name)
    return edits.apply(open.study.id, [{ kind: 'rig', recordingIds: of.map(one => one.id), rigId }], what)
  })
  if (own.length === 0) return null
  const figure = (reading: Reading | null): string =>
    reading === null
      ? words.notRead
      : mark(peakWords(reading.results.peakForce, unitOfLog(reading.recording.forceUnit)))
  return (
    <div className="field">
      <label htmlFor={id}>{words.rig}</label>
      <select
        id={id}
        className="input"
        value={chosen ?? now}
        onChange={event => setChosen(event.target.value)}
      >
        <option value="">{words.noRig}</option>
        {rigs.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
      {chosen !== null && (
        <div className="row">
          <button
            type="button"
            className="button"
            disabled={saying.isPending}
            onClick={() => saying.mutate('one')}
          >
            {words.rigForOne}
          </button>
          <button
            type="button"
            className="button"
            disabled={saying.isPending}
            onClick={() => saying.mutate('all')}
          >
            {words.rigForAll}
          </button>
        </div>
      )}
      <Problems error={saying.error} />
      {saying.data && (
        <ul className="small" aria-live="polite">
          {saying.data.reread.map(({ specimen, before, after }) => (
            <li key={specimen}>{words.beforeAfter(specimen, figure(before), figure(after))}</li>
          ))}
        </ul>
      )}
    </div>
  )
}
