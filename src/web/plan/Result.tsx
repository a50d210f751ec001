import { useId } from 'react'
import { QUANTITIES, type Quantity } from '../../core/statistics/compare/quantity.ts'
import type { Study } from '../../server/apiTypes.ts'
import type { StudyChange } from '../data/useStudyChange.ts'
import { Answered } from '../parts/Answered.tsx'
import { FigureInput } from '../parts/FigureInput.tsx'
import { wholeOrNull } from '../parts/typed.ts'
import { texts } from '../texts/index.ts'

const t = texts.plan
const DIVIDED = ['force', 'force-per-width', 'force-per-area'] as const

/** What counts as the result, what a force is divided by, and how many equal elements a specimen has. */
export function Result({
  study,
  quantity,
  onQuantity,
  change,
}: {
  study: Study
  quantity: Quantity
  onQuantity: (quantity: Quantity) => void
  change: StudyChange['change']
}) {
  const id = useId()
  const isForce = quantity === 'peakForce' || quantity === 'laterPeak'
  return (
    <Answered heading={t.result} answer={t.quantities[quantity]} className="not-printed">
      <div className="plan-fields">
        <div className="field">
          <label htmlFor={`${id}-what`}>{t.resultWhat}</label>
          <select
            id={`${id}-what`}
            className="input"
            value={quantity}
            onChange={event => onQuantity(event.target.value as Quantity)}
          >
            {(Object.keys(QUANTITIES) as Quantity[]).map(name => (
              <option key={name} value={name}>
                {t.quantities[name]}
              </option>
            ))}
          </select>
        </div>
        {isForce && (
          <div className="field">
            <label htmlFor={`${id}-per`}>{t.dividedBy}</label>
            <select
              id={`${id}-per`}
              className="input"
              value={study.quantity}
              onChange={event => change({ quantity: event.target.value as Study['quantity'] }, t.didDivide)}
            >
              {DIVIDED.map(name => (
                <option key={name} value={name}>
                  {t.divided[name]}
                </option>
              ))}
            </select>
          </div>
        )}
        <div className="field">
          <label htmlFor={`${id}-elements`}>{t.studyElements}</label>
          <FigureInput
            id={`${id}-elements`}
            value={study.elements}
            read={wholeOrNull}
            fault={t.notWhole}
            onFigure={elements => change({ elements }, t.didStudyElements)}
          />
        </div>
      </div>
      <p className="pencil small">{t.quantityHelp[quantity]}</p>
    </Answered>
  )
}
