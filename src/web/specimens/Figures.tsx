import { peakWords } from '../../core/reading/peakWords.ts'
import { shownUnitOf } from '../../core/units/force.ts'
import type { Edited, Reading } from '../../server/apiTypes.ts'
import { useMark, useUnit } from '../app/units.tsx'
import { texts } from '../texts/index.ts'

const words = texts.read.facts

/** Every figure that a change made another, before and after. */
export function Figures({ reread }: Pick<Edited, 'reread'>) {
  const mark = useMark()
  const unit = useUnit(reread.find(one => one.after)?.after?.recording.forceUnit ?? undefined)
  if (reread.length === 0) return null
  const figure = (reading: Reading | null): string =>
    reading === null
      ? words.notRead
      : mark(peakWords(reading.results.peakForce, shownUnitOf(reading.recording.forceUnit, unit)))
  return (
    <section aria-label={texts.specimens.figuresHeading} aria-live="polite">
      <h3>{texts.specimens.figuresHeading}</h3>
      <ul className="small">
        {reread.map(({ specimen, before, after }) => (
          <li key={specimen}>{words.beforeAfter(specimen, figure(before), figure(after))}</li>
        ))}
      </ul>
    </section>
  )
}
