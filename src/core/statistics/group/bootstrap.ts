import { normalCdf, normalQuantile } from '../distributions/normal.ts'
import { seededRandom } from '../random.ts'
import type { Interval } from './intervals.ts'
import { mean, quantileSorted } from './moments.ts'

export interface BootstrapOptions {
  readonly seed?: number
  readonly resamples?: number
  readonly confidence?: number
  /** What is estimated; the mean unless said. */
  readonly statistic?: (values: Float64Array) => number
}

/** With fewer values there are too few different resamples for an end of the interval to mean anything. */
export const LEAST_FOR_BOOTSTRAP = 5

/**
 * Bias-corrected and accelerated bootstrap interval (Efron 1987, JASA 82:171; Efron and Tibshirani 1993, chapter 14):
 * the bias from the share of resamples below the estimate (those equal to it count half), the acceleration from leaving out each
 * value in turn. It needs no normality, but many values: with few it is too narrow. Intervals called 95 % for the mean of normal
 * groups held it in 84.6 % of 10,000 groups of 5, 89.9 % of groups of 10 and 93.2 % of groups of 30; of lognormal groups (sd of
 * the logarithm 0.5) in 87.4 % of 10 and 92.7 % of 30 (test/core/statistics/group/coverage.slow.test.ts).
 * `null` with fewer than five values, or when the statistic does not vary.
 */
export function bcaInterval(
  values: ArrayLike<number>,
  { seed = 1, resamples = 10_000, confidence = 0.95, statistic = mean }: BootstrapOptions = {},
): Interval | null {
  const n = values.length
  if (n < LEAST_FOR_BOOTSTRAP) return null
  const own = Float64Array.from(values)
  const estimate = statistic(own)
  const drawn = resampled(own, statistic, resamples, seed)
  const bias = normalQuantile(shareBelow(drawn, estimate))
  if (!Number.isFinite(bias) || drawn[0] === drawn[resamples - 1]) return null
  const acceleration = accelerationOf(own, statistic)
  const end = (p: number): number => {
    const z = bias + normalQuantile(p)
    return quantileSorted(drawn, normalCdf(bias + z / (1 - acceleration * z)))
  }
  return [end((1 - confidence) / 2), end((1 + confidence) / 2)]
}

/** The statistic of `count` resamples, in rising order. */
function resampled(
  own: Float64Array,
  statistic: (values: Float64Array) => number,
  count: number,
  seed: number,
): Float64Array {
  const { below } = seededRandom(seed)
  const n = own.length
  const sample = new Float64Array(n)
  const drawn = new Float64Array(count)
  for (let run = 0; run < count; run++) {
    for (let i = 0; i < n; i++) sample[i] = own[below(n)]!
    drawn[run] = statistic(sample)
  }
  return drawn.sort()
}

/** Share of the ordered `drawn` that lies below; equal ones, up to rounding, count half. */
function shareBelow(drawn: Float64Array, estimate: number): number {
  const slack = 1e-12 * Math.max(Math.abs(drawn[0]!), Math.abs(drawn[drawn.length - 1]!))
  let twice = 0
  for (const value of drawn) {
    if (value < estimate - slack) twice += 2
    else if (value <= estimate + slack) twice += 1
  }
  return twice / (2 * drawn.length)
}

/** Skewness of the estimate, from the estimates without each value: Σd³/(6 (Σd²)^1.5). */
function accelerationOf(own: Float64Array, statistic: (values: Float64Array) => number): number {
  const without = Array.from(own, (_, left) => statistic(own.filter((_, i) => i !== left)))
  const middle = mean(without)
  let squares = 0
  let cubes = 0
  for (const value of without) {
    squares += (middle - value) ** 2
    cubes += (middle - value) ** 3
  }
  return squares > 0 ? cubes / (6 * squares ** 1.5) : 0
}
