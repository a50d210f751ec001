import type { Adjustment } from '../../../core/reading/adjustmentDocument.ts'

/** A line of the numbered list: an adjustment that counts, or one that was struck out and can be put back. */
export interface Listed {
  readonly adjustment: Adjustment
  readonly isStruck: boolean
}

/**
 * Every adjustment that a specimen ever had, in the order in which they were made. Those that are not in the newest
 * reading are struck out; `history` has the older readings' lists, newest first.
 */
export function listedAdjustments(
  now: readonly Adjustment[],
  history: readonly (readonly Adjustment[])[],
): Listed[] {
  const known = new Map(now.map(adjustment => [adjustment.id, { adjustment, isStruck: false }]))
  for (const list of history)
    for (const adjustment of list)
      if (!known.has(adjustment.id)) known.set(adjustment.id, { adjustment, isStruck: true })
  return [...known.values()].sort((a, b) => madeAt(a) - madeAt(b))
}

/** The list with one put back where it stood by its time: what came later still counts over it. */
export function putBack(now: readonly Adjustment[], struck: Adjustment): Adjustment[] {
  const later = now.findIndex(a => Date.parse(a.when) > Date.parse(struck.when))
  return later < 0 ? [...now, struck] : now.toSpliced(later, 0, struck)
}

const madeAt = ({ adjustment }: Listed): number => Date.parse(adjustment.when)
