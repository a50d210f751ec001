import { useState } from 'react'
import { laterPeakHalfN } from '../../core/reading/doubtInProportion.ts'
import { explain } from '../../core/reading/explain.ts'
import { peakWords } from '../../core/reading/peakWords.ts'
import { logsIn } from '../../core/recording.ts'
import type { ForceUnit } from '../../core/units/force.ts'
import type { Reading } from '../../server/apiTypes.ts'
import { useMark, useShowForce } from '../app/units.tsx'
import { Ledger } from '../parts/Ledger.tsx'
import { Numeral } from '../parts/Numeral.tsx'
import { texts } from '../texts/index.ts'

const words = texts.pull

interface ReadingNowProps {
  readonly reading: Reading
  readonly unit: ForceUnit
  /** Where it is of the recording in hand alone: what to say of that; `null`: it is of the specimen. */
  readonly alone: string | null
}

/** What the pulls so far read as: the peak with its doubt and its ledger, of which recordings, and what to know about it. */
export function ReadingNow({ reading, unit, alone }: ReadingNowProps) {
  const mark = useMark()
  const show = useShowForce(unit)
  const [isOpen, setOpen] = useState(false)
  const { peakForce, partialBreaks, laterPeaks } = reading.results
  const { ledger } = explain(reading, show)
  const logs = logsIn(reading.recording.segments)
  const of = alone ?? (logs > 1 ? words.ofRecordings(logs) : null)
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
      {of !== null && <p className="pencil pull-of">{of}</p>}
      <p className="pencil">
        {[
          ...(partialBreaks > 0 ? [words.partialBreaks(partialBreaks)] : []),
          ...laterPeaks.map(
            later =>
              `${words.laterPeak(later.pull + 1)}: ${show(later.valueN, laterPeakHalfN(reading, later))}`,
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
