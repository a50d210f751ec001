import type { Reading } from '../../core/reading/document.ts'
import type { Recording } from '../../core/recording.ts'
import { sampleRate } from '../../core/signal/rate.ts'
import { findTaps } from './taps.ts'

/** Something in a recording that may be heard. */
export interface Moment {
  readonly what: 'tap' | 'break'
  /** On the recording's time axis. */
  readonly atS: number
  /** Standard deviation of that time. */
  readonly standardS: number
}

/** What may be heard of one stretch of a recording with one time base. */
export interface MomentPattern {
  /** First and last reading of the stretch. */
  readonly fromS: number
  readonly toS: number
  readonly moments: readonly Moment[]
}

/** A tap or a break lies anywhere in a sampling period: a rectangle's standard deviation, 1/√12 of it. */
const WITHIN_PERIOD = 1 / Math.sqrt(12)
/** Two moments closer than this make one sound. */
const APART_S = 0.05

/**
 * The taps and breaks of a recording, a pattern for each segment: what lies between segments in time is not
 * known.
 */
export function momentPatterns(recording: Recording, reading: Reading): MomentPattern[] {
  const rate = sampleRate(recording.timeS, recording.segments)
  const standardS = Math.hypot(WITHIN_PERIOD * rate.periodS, rate.jitterS)
  const all: Moment[] = [
    ...findTaps(recording, reading, rate).map(atS => ({ what: 'tap' as const, atS, standardS })),
    ...reading.events
      .filter(e => e.kind === 'break' || e.kind === 'partial-break')
      .map(({ atS }) => ({ what: 'break' as const, atS, standardS })),
  ].sort((a, b) => a.atS - b.atS)
  return recording.segments.map(({ from, to }) => {
    const fromS = recording.timeS[from] ?? 0
    const toS = recording.timeS[to - 1] ?? fromS
    // A moment may be put half a period before the reading that shows it.
    const inside = all.filter(m => m.atS >= fromS - rate.periodS && m.atS <= toS)
    return {
      fromS,
      toS,
      moments: inside.filter((m, i) => i === 0 || m.atS - inside[i - 1]!.atS > APART_S),
    }
  })
}
