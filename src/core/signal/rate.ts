import type { Segment } from '../recording.ts'
import { quantileSorted, robustSd } from './order.ts'

export interface Rate {
  /** Mean step between two samples, gaps left out, in s; 0 where there are not two. */
  readonly periodS: number
  /** Robust standard deviation of the step, in s. */
  readonly jitterS: number
  /** A step longer than this is a gap, in s. */
  readonly gapS: number
}

const MOST_STEPS = 20_001

/**
 * Sampling period, from the steps within segments (at most 20,001 of them, evenly spread).
 * A gap is a step that misses at least one sample and is rare: where one step in fifty is long, long steps are how
 * this log is written.
 */
export function sampleRate(timeS: Float64Array, segments: readonly Segment[]): Rate {
  const stride = Math.max(1, Math.ceil(timeS.length / MOST_STEPS))
  const steps: number[] = []
  for (const { from, to } of segments) {
    for (let i = from + 1; i < to; i += stride) steps.push(timeS[i]! - timeS[i - 1]!)
  }
  if (steps.length === 0) return { periodS: 0, jitterS: 0, gapS: Number.POSITIVE_INFINITY }
  const sorted = Float64Array.from(steps).sort()
  const middle = quantileSorted(sorted, 0.5)!
  // Stamps to the millisecond make the median itself jump by a millisecond.
  let near = 0
  let sum = 0
  for (const step of sorted) {
    if (!(step > 0.5 * middle && step < 1.5 * middle)) continue
    near++
    sum += step
  }
  const nearS = near > 0 ? sum / near : middle
  const jitterS = robustSd(sorted)!
  // One step in fifty may be long, and in a short record three of them, without counting as usual.
  const usual = sorted.length >= 50 ? quantileSorted(sorted, 1 - Math.max(0.02, 4 / sorted.length))! : nearS
  const gapS = Math.max(1.75 * nearS, nearS + 8 * jitterS, 1.5 * usual)
  return { periodS: meanUpTo(sorted, gapS), jitterS, gapS }
}

/** Stamps rounded more coarsely than the period step by one rounding or two: only the mean of all is the period. */
function meanUpTo(sorted: Float64Array, most: number): number {
  let sum = 0
  let count = 0
  for (const step of sorted) {
    if (step > most) break
    sum += step
    count++
  }
  return sum / count
}
