import { betaCdf } from '../distributions/beta.ts'
import { noncentralTQuantile } from '../distributions/noncentralT.ts'
import { normalQuantile } from '../distributions/normal.ts'
import { mean, sorted, standardDeviation } from './moments.ts'

/** Factors already worked out: groups of one study mostly share their n. */
const factors = new Map<string, number>()

/**
 * k of the one-sided normal tolerance bound m − k s: the share `content` of all specimens lies above it with the given
 * confidence. k = t′(confidence; n − 1, z √n)/√n with the non-central t (e-Handbook 7.2.6.3; ISO 16269-6). n ≥ 2.
 */
export function normalBoundFactor(n: number, content: number, confidence = 0.95): number {
  const key = `${n} ${content} ${confidence}`
  const known = factors.get(key)
  if (known !== undefined) return known
  const root = Math.sqrt(n)
  const factor = noncentralTQuantile(confidence, n - 1, normalQuantile(content) * root) / root
  factors.set(key, factor)
  return factor
}

/**
 * What the share `content` of all specimens exceeds, with the given confidence, if strengths are normal.
 * It may be negative: then so few specimens say nothing. `null` with fewer than two values or when all are equal.
 */
export function normalLowerBound(
  values: ArrayLike<number>,
  content: number,
  confidence = 0.95,
): number | null {
  if (values.length < 2) return null
  const sd = standardDeviation(values)
  return sd === 0 ? null : mean(values) - normalBoundFactor(values.length, content, confidence) * sd
}

/** Specimens from which the weakest one is such a bound whatever the distribution: content^n ≤ 1 − confidence. */
export const leastForOrderBound = (content: number, confidence = 0.95): number =>
  Math.ceil(Math.log1p(-confidence) / Math.log(content))

/**
 * The same bound without any assumption of shape: the highest value in rank that still has the confidence, by the binomial
 * distribution of ranks (Wilks 1941; ISO 16269-6, distribution-free part). A value that was only reached (`at-least`)
 * may stand among them as it is: the bound is then on the safe side.
 * `null` below 29 values for 90 %, 299 for 99 % (see {@link leastForOrderBound}).
 */
export function orderLowerBound(
  values: ArrayLike<number>,
  content: number,
  confidence = 0.95,
): number | null {
  const n = values.length
  if (n < leastForOrderBound(content, confidence)) return null
  // Confidence of rank k: P(at least k of n lie below the quantile).
  let rank = 1
  while (rank < n && betaCdf(1 - content, rank + 1, n - rank) >= confidence) rank++
  return sorted(values)[rank - 1]!
}
