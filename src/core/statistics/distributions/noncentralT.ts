import { chiMixture } from './chiMixture.ts'
import { logNormalCdf, normalCdf, normalQuantile, normalUpperTail } from './normal.ts'
import { findRoot } from './root.ts'

/**
 * P(T ≤ t) for the non-central t distribution: T = (Z + noncentrality)/√(χ²/df), Z standard normal.
 *
 * From its definition: the mean of Φ(t s − noncentrality) over s = √(χ²/df) (Johnson, Kotz and Balakrishnan 1995,
 * Continuous Univariate Distributions 2, chapter 31, equation 31.11'), integrated numerically. `df` ≥ 1, or ∞ for the normal.
 * Relatively accurate in the lower tail too.
 */
export function noncentralTCdf(t: number, df: number, noncentrality: number): number {
  if (df === Infinity) return normalCdf(t - noncentrality)
  return t > noncentrality ? 1 - upper(t, df, noncentrality) : lower(t, df, noncentrality)
}

/** P(T > t): the upper tail. */
export function noncentralTUpperTail(t: number, df: number, noncentrality: number): number {
  if (df === Infinity) return normalUpperTail(t - noncentrality)
  return t > noncentrality ? upper(t, df, noncentrality) : 1 - lower(t, df, noncentrality)
}

/** Of the two integrals the one for the tail that t lies in is the smoother; the other is its complement. */
const lower = (t: number, df: number, noncentrality: number): number =>
  chiMixture(s => logNormalCdf(t * s - noncentrality), df)
const upper = (t: number, df: number, noncentrality: number): number =>
  chiMixture(s => logNormalCdf(noncentrality - t * s), df)

/** t with P(T ≤ t) = p, 0 < p < 1. */
export function noncentralTQuantile(p: number, df: number, noncentrality: number): number {
  if (df === Infinity) return noncentrality + normalQuantile(p)
  // The smaller tail, on a log scale: nearly straight, and never short of digits.
  const off =
    p < 0.5
      ? (t: number) => Math.log(noncentralTCdf(t, df, noncentrality) / p)
      : (t: number) => Math.log((1 - p) / noncentralTUpperTail(t, df, noncentrality))
  const start = noncentrality + normalQuantile(p)
  let reach = 1 + Math.abs(start) * 0.1
  while (off(start - reach) > 0) reach *= 2
  const low = start - reach
  reach = 1 + Math.abs(start) * 0.1
  while (off(start + reach) < 0) reach *= 2
  return findRoot(off, low, start + reach)
}
