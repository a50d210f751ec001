import { useId } from 'react'
import { FigureInput } from '../parts/FigureInput.tsx'
import { Needed } from '../parts/Needed.tsx'
import { wholeOrNull } from '../parts/typed.ts'
import { texts } from '../texts/index.ts'
import type { Asked } from './asked.ts'

const t = texts.plan
/** Of each in a day or batch, unless told. */
const USUAL_PER_BLOCK = 2

/** Whether a difference is to be judged within days or batches, with how many of each in one and how much they react to it. */
export function Within({
  asked: { goal, perBlock, reactsPct },
  onKeep,
}: {
  asked: Asked
  onKeep: (change: Partial<Asked>) => void
}) {
  const id = useId()
  if (goal !== 'difference' && goal !== 'control') return null
  return (
    <div className="plan-within">
      <label className="plan-inline">
        {t.within}{' '}
        <select
          className="input"
          value={perBlock === null ? 'all' : 'blocks'}
          onChange={event => onKeep({ perBlock: event.target.value === 'all' ? null : USUAL_PER_BLOCK })}
        >
          <option value="all">{t.withinAll}</option>
          <option value="blocks">{t.withinBlocks}</option>
        </select>
      </label>
      {perBlock !== null && (
        <div className="plan-fields">
          <div className="field plan-narrow">
            <label htmlFor={`${id}-each`}>{t.perBlock}</label>
            <Needed />
            <FigureInput
              id={`${id}-each`}
              isNeeded
              value={perBlock}
              read={wholeOrNull}
              fault={t.notWhole}
              onFigure={each => each !== null && onKeep({ perBlock: each })}
            />
          </div>
          <div className="field plan-narrow">
            <label htmlFor={`${id}-reacts`}>{t.reacts}</label>
            <FigureInput id={`${id}-reacts`} value={reactsPct} onFigure={pct => onKeep({ reactsPct: pct })} />
          </div>
        </div>
      )}
    </div>
  )
}
