import { useState } from 'react'
import { explain } from '../../core/reading/explain.ts'
import { peakWords } from '../../core/reading/peakWords.ts'
import type { ForceUnit } from '../../core/units/force.ts'
import type { Reading } from '../../server/apiTypes.ts'
import { useMark, useShowForce } from '../app/units.tsx'
import { Ledger } from '../parts/Ledger.tsx'
import { Numeral } from '../parts/Numeral.tsx'
import { texts } from '../texts/index.ts'

const words = texts.pull

/** What the pulls so far read as: the peak with its doubt and its ledger, and what to know about it. */
export function ReadingNow({ reading, unit }: { reading: Reading; unit: ForceUnit }) {
  const mark = useMark()
  const show = useShowForce(unit)
  const [isOpen, setOpen] = useState(false)
  const { peakForce, partialBreaks, laterPeaks } = reading.results
  const { ledger } = explain(reading, show)
  return (
    <div className="pull-reading">
      <Numeral
        large
        name={words.peakName}
        words={peakWords(peakForce, unit)}
        unit={unit}
        isOpen={isOpen}
        onOpen={setOpen}
      >
        {ledger && <Ledger ledger={ledger} unit={unit} />}
      </Numeral>
      <p className="pencil">
        {[
          ...(partialBreaks > 0 ? [words.partialBreaks(partialBreaks)] : []),
          ...laterPeaks.map(
            ({ valueN, uncertaintyN, pull }) => `${words.laterPeak(pull + 1)}: ${show(valueN, uncertaintyN)}`,
          ),
        ].join(' · ')}
      </p>
      {reading.warnings.length > 0 && (
        <details>
          <summary>{words.warningsHeading}</summary>
          <ul>
            {reading.warnings.map(({ code, text }) => (
              <li key={code}>{mark(text)}</li>
            ))}
          </ul>
        </details>
      )}
    </div>
  )
}
