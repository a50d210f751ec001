import { quantileSorted } from '../signal/order.ts'
import type { Looked, Stretch } from './types.ts'

/** Readings of a stretch about their own slow course, on an even clock. */
export interface Residual {
  /** Place in periods from the first, whole and rising. */
  readonly place: Float64Array
  readonly valueN: Float64Array
  readonly periodS: number
}

/** Readings to either side over which the slow course is averaged, in seconds and in readings. */
const COURSE_S = 1
const COURSE_READINGS = 8

/**
 * A stretch less its running mean over about two seconds: what is faster than that, as noise, hum and
 * repeats are.
 */
export function residualOf(looked: Looked, { from, to }: Stretch): Residual {
  const { cleanN, place, periodS } = looked
  const half = Math.max(COURSE_READINGS, Math.round(COURSE_S / (periodS > 0 ? periodS : 1)))
  const n = to - from
  const valueN = new Float64Array(n)
  const sums = new Float64Array(n + 1)
  for (let i = 0; i < n; i++) sums[i + 1] = sums[i]! + cleanN[from + i]!
  for (let i = 0; i < n; i++) {
    // The same reach on both sides: a slope then leaves nothing behind.
    const reach = Math.min(half, i, n - 1 - i)
    const mean = (sums[i + reach + 1]! - sums[i - reach]!) / (2 * reach + 1)
    valueN[i] = cleanN[from + i]! - mean
  }
  return { place: place.slice(from, to).map(p => p - place[from]!), valueN, periodS }
}

/** Half of the middle 68 % of the values: their standard deviation, whatever a few wild ones do. */
export function spreadOf(valueN: Float64Array): number {
  if (valueN.length < 8) return 0
  const sorted = valueN.slice().sort()
  return (quantileSorted(sorted, 0.8413)! - quantileSorted(sorted, 0.1587)!) / 2
}

/** Standard deviation; the ends, where the running mean reaches less far, are left out. */
export function deviationOf({ valueN }: Residual): number {
  const trim = Math.min(COURSE_READINGS, Math.floor(valueN.length / 8))
  const kept = valueN.subarray(trim, valueN.length - trim)
  if (kept.length < 8) return 0
  // A knock during the minute is no noise.
  const limit = 6 * spreadOf(kept)
  let sum = 0
  let n = 0
  for (const v of kept) {
    if (limit > 0 && Math.abs(v) > limit) continue
    sum += v * v
    n++
  }
  return Math.sqrt(sum / n)
}

/** Correlation of readings `lag` apart. */
export function correlationAt({ place, valueN }: Residual, lag: number): number {
  let both = 0
  let own = 0
  let pairs = 0
  for (let i = 0; i + lag < valueN.length; i++) {
    own += valueN[i]! ** 2
    if (place[i + lag]! - place[i]! !== lag) continue
    both += valueN[i]! * valueN[i + lag]!
    pairs++
  }
  const n = Math.max(1, valueN.length - lag)
  return own > 0 && pairs > 0 ? both / pairs / (own / n) : 0
}
