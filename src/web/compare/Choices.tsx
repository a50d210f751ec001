import { useId } from 'react'
import { QUANTITIES, type Quantity } from '../../core/statistics/compare/quantity.ts'
import type { OpenStudy } from '../data/backend.ts'
import { useStudies } from '../data/queries.ts'
import { FigureInput } from '../parts/FigureInput.tsx'
import { texts } from '../texts/index.ts'
import { CovariateChoice } from './CovariateChoice.tsx'
import { ModeChoice } from './ModeChoice.tsx'
import type { ComparisonChoice } from './useComparison.ts'

const t = texts.compare
const BLOCKS = [
  ['', t.blocksNone],
  ['batch', t.blocksBatch],
  ['operator', t.blocksOperator],
  ['day', t.blocksDay],
] as const

/** Which quantity, within which blocks, with which other studies. */
export function Choices({
  opens,
  choice,
  onChoose,
}: {
  /** The open study, then those that are compared with it. */
  opens: readonly [OpenStudy, ...OpenStudy[]]
  choice: ComparisonChoice
  onChoose(choice: ComparisonChoice): void
}) {
  const [open] = opens
  const { data: studies = [] } = useStudies()
  const id = useId()
  const control = open.variants.find(variant => variant.control)
  const others = studies.filter(({ id, archived }) => id !== open.study.id && !archived)
  return (
    <div className="row compare-choices not-printed">
      <label>
        {t.quantity}{' '}
        <select
          className="input"
          value={choice.quantity}
          onChange={event => onChoose({ ...choice, quantity: event.target.value as Quantity })}
        >
          {Object.keys(QUANTITIES).map(quantity => (
            <option key={quantity} value={quantity}>
              {t.quantities[quantity as Quantity]}
            </option>
          ))}
        </select>
      </label>
      <label>
        {t.blocks}{' '}
        <select
          className="input"
          value={choice.blocksBy ?? ''}
          onChange={event =>
            onChoose({
              ...choice,
              blocksBy: BLOCKS.map(([name]) => name).find(name => name === event.target.value) || null,
            })
          }
        >
          {BLOCKS.map(([name, words]) => (
            <option key={name} value={name}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <span>
        <label htmlFor={id}>{t.worth}</label>{' '}
        <FigureInput
          id={id}
          className="input compare-worth"
          value={choice.worthPct ?? null}
          onFigure={worthPct => onChoose({ ...choice, worthPct })}
        />{' '}
        %
      </span>
      {control !== undefined && open.variants.length > 2 && (
        <label>
          {t.pairsOf}{' '}
          <select
            className="input"
            value={choice.againstControl ? 'control' : 'all'}
            onChange={event => onChoose({ ...choice, againstControl: event.target.value === 'control' })}
          >
            <option value="all">{t.pairsAll}</option>
            <option value="control">{t.pairsControl(control.name)}</option>
          </select>
        </label>
      )}
      <ModeChoice open={open} mode={choice.mode ?? null} onChoose={mode => onChoose({ ...choice, mode })} />
      <CovariateChoice
        opens={opens}
        covariate={choice.covariate ?? null}
        onChoose={covariate => onChoose({ ...choice, covariate })}
      />
      {others.length > 0 && (
        <details>
          <summary>{t.alsoStudies}</summary>
          {others.map(({ id, name }) => (
            <label key={id} className="compare-study">
              <input
                type="checkbox"
                checked={choice.alsoStudies.includes(id)}
                onChange={event =>
                  onChoose({
                    ...choice,
                    alsoStudies: event.target.checked
                      ? [...choice.alsoStudies, id]
                      : choice.alsoStudies.filter(other => other !== id),
                  })
                }
              />{' '}
              {name}
            </label>
          ))}
        </details>
      )}
    </div>
  )
}
