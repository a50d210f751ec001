import type { ReactNode } from 'react'
import type { Reading } from '../../../core/reading/document.ts'
import type { ShownUnit } from '../../../core/units/force.ts'
import { useMark } from '../../app/units.tsx'
import { Answered } from '../../parts/Answered.tsx'
import type { View } from '../../parts/curve/view.ts'
import { Problems } from '../../parts/Problems.tsx'
import { texts } from '../../texts/index.ts'
import { AdjustmentForm } from './AdjustmentForm.tsx'
import { AdjustmentList } from './AdjustmentList.tsx'
import { type Draft, type DraftKind, OF_A_STRETCH, seconds } from './draft.ts'
import { type Adjusting, TRIED_ID } from './useAdjusting.ts'

const words = texts.read.adjust
const OTHERS: readonly DraftKind[] = ['drop-pull', 'relabel', 'elements', 'sensitivity']

/** What was put right in this reading, and the ways to put something right. */
export function AdjustSection({
  specimenId,
  adjusting,
  isMarked,
  onStart,
}: {
  specimenId: string
  adjusting: Adjusting
  /** A stretch is marked: what it can be is offered under the curve. */
  isMarked: boolean
  onStart: (kind: DraftKind, given?: Partial<Draft>) => void
}) {
  return (
    <Answered
      heading={words.heading}
      answer={words.soMany(adjusting.tried.filter(({ id }) => id !== TRIED_ID).length)}
    >
      <AdjustmentList specimenId={specimenId} adjusting={adjusting} />
      <p className="pencil small">{words.intro}</p>
      <Choices kinds={isMarked ? OTHERS : [...OF_A_STRETCH, ...OTHERS]} onStart={onStart} />
    </Answered>
  )
}

/** Right under the curve: what a marked stretch is to be, or the form of the adjustment that is being written. */
export function AdjustUnderCurve({
  adjusting,
  marked,
  onStart,
  onClear,
  onMove,
  before,
  after,
  unit,
}: {
  adjusting: Adjusting
  marked: View | null
  onStart: (kind: DraftKind, given?: Partial<Draft>) => void
  onClear: () => void
  /** Goes to where a part can be moved by hand; `null` where it is there already, or no part is said. */
  onMove: (() => void) | null
  before: Reading | null
  after: Reading | null
  unit: ShownUnit
}) {
  const mark = useMark()
  const span = marked && { fromS: seconds(marked.from), toS: seconds(marked.to) }
  return (
    <>
      <Problems error={adjusting.error}>
        {adjusting.isConflict && (
          <div className="row">
            <button type="button" className="button" onClick={adjusting.showTheirs}>
              {texts.app.showTheirs}
            </button>
            <button type="button" className="button" onClick={adjusting.writeMine}>
              {texts.app.keepMine}
            </button>
          </div>
        )}
      </Problems>
      {adjusting.draft && (
        <AdjustmentForm
          adjusting={adjusting}
          draft={adjusting.draft}
          onMove={onMove}
          before={before}
          after={after}
          unit={unit}
        />
      )}
      {!adjusting.draft && span && (
        <div className="read-marked">
          <p role="status">{mark(words.marked(span.fromS, span.toS))}</p>
          <Choices kinds={OF_A_STRETCH} given={span} onStart={onStart}>
            <button type="button" className="button button-plain" onClick={onClear}>
              {words.clear}
            </button>
          </Choices>
        </div>
      )}
    </>
  )
}

const Choices = ({
  kinds,
  given = {},
  onStart,
  children,
}: {
  kinds: readonly DraftKind[]
  given?: Partial<Draft>
  onStart: (kind: DraftKind, given?: Partial<Draft>) => void
  children?: ReactNode
}) => (
  <div className="read-choices">
    {kinds.map(kind => (
      <button key={kind} type="button" className="button" onClick={() => onStart(kind, given)}>
        {words.kinds[kind]}
      </button>
    ))}
    {children}
  </div>
)
