import { memo, useState } from 'react'
import { explain } from '../../core/reading/explain.ts'
import { peakWords } from '../../core/reading/peakWords.ts'
import type { ShownUnit } from '../../core/units/force.ts'
import { isOwnScale } from '../../core/units/force.ts'
import { useMark, useShowForce } from '../app/units.tsx'
import { Ledger } from '../parts/Ledger.tsx'
import { Numeral } from '../parts/Numeral.tsx'
import { useIsNarrow } from '../parts/useIsNarrow.ts'
import { texts } from '../texts/index.ts'
import { figuresOf } from './figures.ts'
import type { Shown } from './ReadCurve.tsx'
import { SampleRows } from './SampleRows.tsx'

/** What a reading came to: the peak with its status and ledger, the other figures, and what to know about them. */
export const ResultPanel = memo(function ResultPanel({
  shown,
  unit,
  onLook,
}: {
  shown: Shown
  unit: ShownUnit
  /** Shows a moment of the record on the curve. */
  onLook: (atS: number) => void
}) {
  const mark = useMark()
  const show = useShowForce(unit)
  const isNarrow = useIsNarrow()
  const [openId, setOpenId] = useState<string | null>(isNarrow ? null : 'peakForce')
  const { reading } = shown.look
  const { peakForce } = reading.results
  const { ledger, whys } = explain(reading, show)
  const warnings = reading.warnings.map(({ code, text }, i) => ({
    key: `${code} ${i}`,
    text:
      whys.filter(why => why.about === code)[reading.warnings.slice(0, i).filter(w => w.code === code).length]
        ?.text ?? text,
  }))
  const opens = (id: string) => ({
    isOpen: openId === id,
    onOpen: (isOpen: boolean) => setOpenId(isOpen ? id : null),
  })
  const samples = (atS: number | null) =>
    atS !== null && <Samples shown={shown} atS={atS} unit={unit} onLook={onLook} />
  return (
    <section className="read-result" aria-labelledby="read-result">
      <h2 id="read-result">{texts.read.resultHeading}</h2>
      <p className="pencil read-figure-name">
        {texts.read.figures.peakForce}:{' '}
        <span data-status={peakForce.status}>{texts.read.statusWords[peakForce.status]}</span>
        {peakForce.valueN !== null && (
          <>
            {' · '}
            <span data-zero={peakForce.zero}>{texts.read.zeroWords[peakForce.zero]}</span>
          </>
        )}
      </p>
      <Numeral
        large
        name={texts.read.figures.peakForce}
        words={peakWords(peakForce, unit)}
        unit={unit}
        {...opens('peakForce')}
      >
        {ledger && <Ledger ledger={ledger} unit={unit} />}
        <p className="small">{mark(whys.find(why => why.about === 'peakForce')?.text ?? '')}</p>
        {samples(peakForce.atS)}
      </Numeral>
      {unit !== 'N' && !isOwnScale(unit) && peakForce.valueN !== null && (
        <p className="pencil">{mark(texts.read.inNewton(peakWords(peakForce, 'N')))}</p>
      )}
      <dl className="read-figures">
        {figuresOf(reading, unit, show).map(({ id, name, words, unit: force, why, atS }) => (
          <div key={id} data-figure={id}>
            <dt>{name}</dt>
            <dd>
              <Numeral name={name} words={words} unit={force} {...opens(id)}>
                {why !== '' && <p className="small">{mark(why)}</p>}
                {samples(atS)}
              </Numeral>
            </dd>
          </div>
        ))}
      </dl>
      {warnings.length > 0 && (
        <>
          <h3>{texts.read.warningsHeading}</h3>
          <ul className="read-warnings">
            {warnings.map(({ key, text }) => (
              <li key={key}>{mark(text)}</li>
            ))}
          </ul>
        </>
      )}
      {isNarrow ? (
        <details className="read-down small">
          <summary>{texts.read.understoodHeading}</summary>
          <p className="pencil">{texts.read.understood(reading.recording.understood)}</p>
        </details>
      ) : (
        <p className="pencil small">{texts.read.understood(reading.recording.understood)}</p>
      )}
    </section>
  )
})

/** Asked for only once they are wanted. */
function Samples({
  shown,
  atS,
  unit,
  onLook,
}: {
  shown: Shown
  atS: number
  unit: ShownUnit
  onLook: (atS: number) => void
}) {
  const [isOpen, setOpen] = useState(false)
  return (
    <details className="read-down" onToggle={event => setOpen(event.currentTarget.open)}>
      <summary>{texts.read.toSamples}</summary>
      {isOpen && <SampleRows shown={shown} atS={atS} unit={unit} />}
      <button type="button" className="button button-plain" onClick={() => onLook(atS)}>
        {texts.read.showOnCurve}
      </button>
    </details>
  )
}
