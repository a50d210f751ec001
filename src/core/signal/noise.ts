import type { Segment } from '../recording.ts'
import { quantileSorted } from './order.ts'

const WINDOW = 5
const MOST_WINDOWS = 1500
/** Lower quartile of chi-square with 3 degrees of freedom, over 3 (scipy.stats.chi2.ppf(0.25, 3) / 3). */
const QUARTILE_SHARE = 0.4042

/**
 * First estimate of the standard deviation of the reading, in N: residuals about a straight line in windows of five
 * samples, lower quartile over at most 1,500 windows. Straight ramps do not disturb it, and windows with a kink or a
 * drop are outvoted as long as a quarter of the record is straight. Where a quarter does not move at all (a display
 * step coarser than the noise), the mean of the calmer half is taken instead.
 */
export function roughNoise(forceN: Float64Array, segments: readonly Segment[]): number {
  const stride = Math.max(1, Math.floor(forceN.length / MOST_WINDOWS))
  const variances: number[] = []
  for (const { from, to } of segments) {
    for (let i = from; i + WINDOW <= to; i += stride) variances.push(varianceAboutLine(forceN, i, i + WINDOW))
  }
  if (variances.length === 0) return 0
  const sorted = Float64Array.from(variances).sort()
  const quartile = quantileSorted(sorted, 0.25)!
  if (quartile > 0) return Math.sqrt(quartile / QUARTILE_SHARE)
  const calm = sorted.subarray(0, Math.ceil(sorted.length / 2))
  return Math.sqrt(calm.reduce((sum, v) => sum + v, 0) / calm.length)
}

/** Variance of samples `from` to `to` about their straight line over the index. */
function varianceAboutLine(values: Float64Array, from: number, to: number): number {
  const n = to - from
  const middle = (n - 1) / 2
  let mean = 0
  for (let i = from; i < to; i++) mean += values[i]!
  mean /= n
  let xy = 0
  let yy = 0
  for (let i = from; i < to; i++) {
    const y = values[i]! - mean
    xy += (i - from - middle) * y
    yy += y * y
  }
  const xx = (n * (n * n - 1)) / 12
  return Math.max(0, yy - (xy * xy) / xx) / (n - 2)
}

/**
 * Standard deviation of one reading on a ramp: the noise as measured at rest, and never less than what rounding to
 * the display step adds there (step / √12), which a rest that stands still on one figure hides.
 */
export const readingNoiseN = (noiseN: number, quantumN: number): number =>
  Math.max(noiseN, quantumN / Math.sqrt(12))
