import type { Adjustment } from '../../../core/reading/adjustmentDocument.ts'
import type { CurveMovable } from '../../parts/curve/types.ts'
import { typedNumber } from '../../parts/typed.ts'
import { texts } from '../../texts/index.ts'
import type { Joined } from '../useJoined.ts'
import type { Draft } from './draft.ts'

/**
 * The part that a draft moves along the joined curve. The curve follows a moment behind the hand: the part is drawn
 * where it will lie.
 */
export function movedPart(
  draft: Draft,
  { look, at }: Joined,
  triedId: string,
  change: (given: Partial<Draft>) => void,
): CurveMovable | null {
  if (draft.kind !== 'shift' || !look.part) return null
  const field = look.unit === 'mm' ? 'byMm' : 'byS'
  const by = typedNumber(draft[field]) ?? 0
  const ahead = by - (shiftIn(at.adjustments, triedId)?.[field] ?? 0)
  const { from, to } = look.part
  return {
    from: from + ahead,
    to: to + ahead,
    by,
    whole: look,
    label: texts.read.adjust.movePart,
    words: texts.read.adjust.movedBy(by, look.unit),
    onMove: moved => change({ [field]: String(moved) }),
  }
}

const shiftIn = (adjustments: readonly Adjustment[], id: string) =>
  adjustments.find(
    (one): one is Extract<Adjustment, { kind: 'shift' }> => one.id === id && one.kind === 'shift',
  )
