import { plainNumber } from '../../core/units/showForce.ts'
import type { LiveNote } from '../../server/apiTypes.ts'
import { useMark } from '../app/units.tsx'
import { useLiveState } from '../live/useLive.tsx'
import { texts } from '../texts/index.ts'

/** The newest are of use at the bench; all of them are kept with the recording. */
const SHOWN = 6
/** A turn of the nut is seen in the margin; what a device says of itself is kept, and of no use here. */
const isShown = ({ of }: LiveNote): boolean => of !== 'turn' && of !== 'line'

export function NoteList() {
  const { notes } = useLiveState()
  const mark = useMark()
  const shown = notes.filter(isShown).slice(-SHOWN).reverse()
  if (shown.length === 0) return null
  return (
    <section aria-labelledby="pull-notes">
      <h2 id="pull-notes">{texts.pull.notesHeading}</h2>
      <ul className="plain-list pull-notes">
        {shown.map(({ atS, text }) => (
          <li key={`${atS} ${text}`}>
            <span className="pencil">{mark(plainNumber(atS, 1))} s</span> {text}
          </li>
        ))}
      </ul>
    </section>
  )
}
