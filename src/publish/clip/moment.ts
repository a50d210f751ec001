import { firstAfter } from '../../core/signal/search.ts'
import type { ClipTrack, TrackEvent } from './track.ts'

/** What is known of a specimen at one moment: never anything that was read later. */
export interface Moment {
  /** The last sample that had been read; −1 before the first. */
  readonly sample: number
  /** Force of that sample; `null` before the first and where nothing was recorded. */
  readonly forceN: number | null
  readonly peakSoFarN: number | null
  /** The last event, as long as it is news. */
  readonly event: TrackEvent | null
  readonly phase: 'before' | 'live' | 'after'
}

/** How long an event is told after it happened. */
export const NEWS_S = 2.5

/** The specimen as it stood at `atS`, on the time axis of its recording. */
export function momentAt(track: ClipTrack, atS: number): Moment {
  const { timeS, forceN, peakN, stretches, events, endS, startS } = track
  const sample = firstAfter(timeS, atS) - 1
  const inGap = stretches.some(s => s.kind === 'gap' && atS > s.fromS && atS < s.toS)
  let event: TrackEvent | null = null
  for (const one of events) if (one.atS <= atS && atS < one.atS + NEWS_S) event = one
  return {
    sample,
    forceN: sample < 0 || inGap ? null : forceN[sample]!,
    peakSoFarN: sample < 0 ? null : peakN[sample]!,
    event,
    phase: atS < startS ? 'before' : atS > endS ? 'after' : 'live',
  }
}
