import { adjustmentText } from '../../../core/reading/adjustment.ts'
import type { Adjustment } from '../../../core/reading/adjustmentDocument.ts'
import { useMark } from '../../app/units.tsx'
import { useHistory } from '../../data/queries.ts'
import { Problems } from '../../parts/Problems.tsx'
import { texts } from '../../texts/index.ts'
import { listedAdjustments } from './listed.ts'
import type { Adjusting } from './useAdjusting.ts'

const words = texts.read.adjust

/** Every adjustment in pencil, numbered; struck out it can be put back. */
export function AdjustmentList({ specimenId, adjusting }: { specimenId: string; adjusting: Adjusting }) {
  const mark = useMark()
  const { data: history, error } = useHistory(specimenId)
  const listed = listedAdjustments(
    adjusting.kept,
    (history ?? []).map(reading => reading.adjustments as readonly Adjustment[]),
  )
  return (
    <>
      <Problems error={history ? null : error} />
      {listed.length === 0 && <p className="pencil">{words.empty}</p>}
      <ol className="read-adjustments pencil">
        {listed.map(({ adjustment, isStruck }) => {
          const text = mark(adjustmentText(adjustment))
          const signed = words.signed(adjustment.why, adjustment.who, adjustment.when.slice(0, 10))
          return (
            <li key={adjustment.id} data-struck={isStruck}>
              {isStruck ? (
                <s>
                  {text}. {signed}
                </s>
              ) : (
                <span>
                  {text}. {signed}
                </span>
              )}{' '}
              <button
                type="button"
                className="button-plain read-quiet"
                aria-label={isStruck ? words.back(text) : words.strike(text)}
                disabled={adjusting.isKeeping}
                onClick={() => (isStruck ? adjusting.putBack(adjustment) : adjusting.strike(adjustment))}
              >
                {isStruck ? words.backWord : words.strikeWord}
              </button>
              {!isStruck && (
                <button
                  type="button"
                  className="button-plain read-quiet"
                  aria-label={words.change(text)}
                  disabled={adjusting.isKeeping}
                  onClick={() => adjusting.edit(adjustment)}
                >
                  {words.changeWord}
                </button>
              )}
            </li>
          )
        })}
      </ol>
    </>
  )
}
