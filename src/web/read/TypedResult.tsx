import { peakWords } from '../../core/reading/peakWords.ts'
import { shownUnitOf } from '../../core/units/force.ts'
import type { Reading } from '../../server/apiTypes.ts'
import { useMark, useUnit } from '../app/units.tsx'
import { texts } from '../texts/index.ts'

/** The result of a specimen of which a scale showed but the peak: there is no curve to look at. */
export function TypedResult({ reading }: { reading: Reading }) {
  const mark = useMark()
  const { forceUnit } = reading.recording
  const unit = shownUnitOf(forceUnit, useUnit(forceUnit ?? undefined))
  return (
    <section className="read-result" aria-labelledby="read-typed">
      <h2 id="read-typed">{texts.read.resultHeading}</h2>
      <p className="numeral">{mark(peakWords(reading.results.peakForce, unit))}</p>
      {reading.warnings.map(({ code, text }) => (
        <p key={code}>{mark(text)}</p>
      ))}
    </section>
  )
}
