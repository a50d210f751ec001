import type { Segment } from '../recording.ts'
import { quantileSorted } from './order.ts'

const WINDOW = 12
const MOST_WINDOWS = 400
/** Median of chi-square with 10 degrees of freedom, over 10: what the median of the windows' variances falls short by. */
const MEDIAN_SHARE = 0.9342

/**
 * First estimate of the standard deviation of the reading, in N: residuals about a straight line in windows of 12
 * samples, median over at most 400 windows. Ramps do not disturb it; windows with a kink or a drop are outvoted.
 * Where most windows do not move at all (a display step coarser than the noise), the mean of the calmer three
 * quarters is taken instead of the median.
 */
export function roughNoise(forceN: Float64Array, segments: readonly Segment[]): number {
  const stride = Math.max(WINDOW / 2, Math.floor(forceN.length / MOST_WINDOWS))
  const variances: number[] = []
  for (const { from, to } of segments) {
    for (let i = from; i + WINDOW <= to; i += stride) variances.push(varianceAboutLine(forceN, i, i + WINDOW))
  }
  if (variances.length === 0) return 0
  const sorted = Float64Array.from(variances).sort()
  const middle = quantileSorted(sorted, 0.5)!
  if (middle > 0) return Math.sqrt(middle / MEDIAN_SHARE)
  const calm = sorted.subarray(0, Math.ceil(sorted.length * 0.75))
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
