import { adjustmentText } from './adjustment.ts'
import type { Adjustment } from './adjustmentDocument.ts'
import type { Reading, ReadingEvent, Warning } from './document.ts'

/** A drop counts as found this near to the time that names it, or within four sampling periods. */
const NEAR_DROP_S = 0.3
const NEAR_DROP_PERIODS = 4
/** A pull counts as found when the time lies in it or this near to it, in seconds. */
export const NEAR_PULL_S = 1

/** What an adjustment may find its target in. */
interface Targets {
  /** First and last time of the recording. */
  readonly span: { readonly startS: number; readonly endS: number }
  /** The reading without any adjustment; asked for only where it is needed. */
  readonly plainReading: () => Reading
  /** The reading with all of them. */
  readonly adjusted: Reading
}

/**
 * Warnings for adjustments that no longer find what they were made for, as after a change of the engine or on
 * another recording.
 */
export const strayAdjustments = (adjustments: readonly Adjustment[], targets: Targets): Warning[] =>
  adjustments
    .filter(a => !findsTarget(a, targets))
    .map(a => ({
      code: 'adjustment-without-target',
      text: `An adjustment by ${a.who} finds nothing to change: ${adjustmentText(a)} (${a.why}). It was left out; take it out of the list or set its time anew.`,
    }))

function findsTarget(a: Adjustment, { span, plainReading, adjusted }: Targets): boolean {
  switch (a.kind) {
    case 'elements':
    case 'sensitivity':
      return true
    case 'zero-here':
    case 'hold':
    case 'cut':
    case 'shift':
      return a.toS > span.startS && a.fromS < span.endS
    case 'drop-pull':
      return plainReading().pulls.some(p => a.atS >= p.startS - NEAR_PULL_S && a.atS <= p.endS + NEAR_PULL_S)
    case 'relabel': {
      const plain = plainReading()
      const within = Math.max(NEAR_DROP_S, NEAR_DROP_PERIODS / plain.recording.rateHz)
      const near = (e: ReadingEvent) => Math.abs(e.atS - a.atS) <= within
      // A drop too small to be an event by itself shows up only once it has been named.
      return (
        plain.events.some(e => isDrop(e) && near(e)) || adjusted.events.some(e => e.kind === a.as && near(e))
      )
    }
  }
}

const isDrop = (e: ReadingEvent): boolean =>
  e.kind === 'partial-break' || e.kind === 'break' || e.kind === 'slip'
