import type { Adjustment } from './adjustmentDocument.ts'
import { type Amendments, NO_AMENDMENTS } from './amendments.ts'

export type { Adjustment } from './adjustmentDocument.ts'

/** Two labels for one drop are told by times closer than this. */
const SAME_DROP_S = 0.001

/**
 * What a list of adjustments comes to, for the stages of a reading. Replayed in order: the later of two that say
 * something of the same thing counts. The list itself is never changed; leaving one out is taking it back.
 */
export const amendmentsOf = (adjustments: readonly Adjustment[]): Amendments =>
  adjustments.reduce(replay, NO_AMENDMENTS)

function replay(so: Amendments, next: Adjustment): Amendments {
  switch (next.kind) {
    case 'elements':
      return { ...so, elements: next.count }
    case 'sensitivity':
      return { ...so, sensitivity: next.factor }
    case 'zero-here':
      return { ...so, zeros: [...so.zeros, spanOf(next)] }
    case 'hold':
      return { ...so, holds: [...so.holds, spanOf(next)] }
    case 'drop-pull':
      return { ...so, droppedPulls: [...so.droppedPulls, { atS: next.atS }] }
    case 'relabel': {
      const others = so.labels.filter(label => Math.abs(label.atS - next.atS) > SAME_DROP_S)
      return { ...so, labels: [...others, { atS: next.atS, kind: next.as }] }
    }
    case 'cut':
      return { ...so, cuts: [...so.cuts, spanOf(next)] }
    case 'shift':
      return { ...so, shifts: [...so.shifts, { ...spanOf(next), byS: next.byS, byMm: next.byMm }] }
  }
}

const spanOf = ({ fromS, toS }: { fromS: number; toS: number }) => ({ fromS, toS })

/** The list with one more at its end, or with the one of the same id replaced in its place. */
export function withAdjustment(list: readonly Adjustment[], next: Adjustment): Adjustment[] {
  const at = list.findIndex(a => a.id === next.id)
  return at < 0 ? [...list, next] : list.with(at, next)
}

/** The list without one: undo. */
export const withoutAdjustment = (list: readonly Adjustment[], id: string): Adjustment[] =>
  list.filter(a => a.id !== id)

const at = (s: number): string => `${s.toFixed(2)} s`

const LABELS = {
  'partial-break': 'a partial break',
  break: 'a break',
  slip: 'a slip',
  none: 'not an event',
} as const

/** One adjustment in a few plain words, without who and why: `zero taken from 3.20 s to 4.85 s`. */
export function adjustmentText(adjustment: Adjustment): string {
  switch (adjustment.kind) {
    case 'zero-here':
      return `zero taken from ${at(adjustment.fromS)} to ${at(adjustment.toS)}`
    case 'hold':
      return `load held from ${at(adjustment.fromS)} to ${at(adjustment.toS)}`
    case 'drop-pull':
      return `the pull at ${at(adjustment.atS)} left out`
    case 'relabel':
      return `the drop at ${at(adjustment.atS)} taken as ${LABELS[adjustment.as]}`
    case 'cut':
      return `readings from ${at(adjustment.fromS)} to ${at(adjustment.toS)} left out`
    case 'shift': {
      const far = [
        adjustment.byS === null ? null : `${adjustment.byS} s`,
        adjustment.byMm === null ? null : `${adjustment.byMm} mm`,
      ].filter(Boolean)
      return `the curve from ${at(adjustment.fromS)} to ${at(adjustment.toS)} moved by ${far.join(' and ')}`
    }
    case 'elements':
      return adjustment.count === null ? 'number of elements not known' : `${adjustment.count} equal elements`
    case 'sensitivity':
      return `sensitivity to drops ${adjustment.factor}`
  }
}
