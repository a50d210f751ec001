import { QUANTITIES, type Quantity } from '../../core/statistics/compare/quantity.ts'
import type { OpenStudy } from '../data/backend.ts'
import { useStudies } from '../data/queries.ts'
import { texts } from '../texts/index.ts'
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
  open,
  choice,
  onChoose,
}: {
  open: OpenStudy
  choice: ComparisonChoice
  onChoose(choice: ComparisonChoice): void
}) {
  const { data: studies = [] } = useStudies()
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
