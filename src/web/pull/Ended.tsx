import { Link } from 'wouter'
import { addressOf } from '../app/places.ts'
import type { OpenStudy } from '../data/backend.ts'
import { SaveReminder } from '../keeping/KeptHere.tsx'
import { texts } from '../texts/index.ts'
import type { Unanswered } from './ended.ts'
import { ReasonForm } from './ReasonForm.tsx'
import { SayMode } from './SayMode.tsx'
import type { Pull } from './usePull.ts'

const words = texts.pull

/** After a recording: its reading, how the specimen failed, and what is to become of it. */
export function Ended({ open, pull, ended }: { open: OpenStudy; pull: Pull; ended: Unanswered }) {
  const { specimen, name, panel } = pull
  return (
    <section className="pull-ended" aria-labelledby="pull-ended">
      <h2 id="pull-ended">{words.endedHeading(name, ended.isKept)}</h2>
      {!ended.reading && <p>{words.noReading}</p>}
      {ended.problems.map(({ where, what, cure }) => (
        <p key={`${where} ${what}`} className="trouble">
          <strong>{where}:</strong> {what} {cure}
        </p>
      ))}
      <SaveReminder />
      {panel === 'redo' || panel === 'spoil' ? (
        <ReasonForm
          what={panel}
          onWhy={why => void (panel === 'redo' ? pull.redoBecause(why) : pull.spoilBecause(why))}
          onLeave={() => pull.openPanel(null)}
        />
      ) : (
        <>
          {specimen && <SayMode study={open.study} specimen={specimen} pull={pull} />}
          <div className="row">
            <button type="button" className="button" onClick={() => pull.press('redo')}>
              <kbd>{words.keysOf.redo}</kbd> {words.buttons.redo}
            </button>
            <button type="button" className="button" onClick={() => pull.press('spoil')}>
              <kbd>{words.keysOf.spoil}</kbd> {words.buttons.spoil}
            </button>
            <button type="button" className="button" onClick={() => pull.press('pull-on')}>
              <kbd>{words.keysOf.pullOn}</kbd> {words.buttons.pullOn}
            </button>
            {specimen && <Link href={addressOf.specimen(open.study.id, specimen.id)}>{words.inRead}</Link>}
          </div>
        </>
      )}
    </section>
  )
}
