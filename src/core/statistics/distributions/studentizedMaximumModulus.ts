import { chiMixture } from './chiMixture.ts'
import { normalUpperTail } from './normal.ts'
import { findRoot } from './root.ts'
import { tQuantile, tTwoSided } from './t.ts'

/**
 * P(max |T_i| > t): the chance that the greatest of `count` t values of `df` degrees of freedom, independent but for
 * the standard deviation that they share, lies beyond ± t. For other ways in which they may hang together it is an upper
 * bound (Šidák, JASA 62 (1967) 626). One value alone is Student's t. `df` may be any positive number or ∞.
 *
 * The mean over s = √(χ²/df) of 1 − (2Φ(ts) − 1)^count: Stoline and Ury, Technometrics 21 (1979) 87.
 */
export function maximumModulusUpperTail(t: number, count: number, df: number): number {
  if (!(t > 0)) return 1
  if (count === 1) return tTwoSided(t, df)
  const log = (s: number): number => logBeyond(t * s, count)
  return Math.min(1, df === Infinity ? Math.exp(log(1)) : chiMixture(log, df))
}

/** t beyond which the greatest of `count` lies with the chance `alpha`, 0 < alpha < 1. */
export function maximumModulusCritical(alpha: number, count: number, df: number): number {
  if (count === 1) return tQuantile(1 - alpha / 2, df)
  // Bonferroni's is never below it, that of one alone never above.
  const low = tQuantile(1 - alpha / 2, df)
  const high = tQuantile(1 - alpha / 2 / count, df)
  return findRoot(t => Math.log(maximumModulusUpperTail(t, count, df) / alpha), low * 0.999, high * 1.001)
}

const logBeyond = (x: number, count: number): number =>
  Math.log(-Math.expm1(count * Math.log1p(-2 * normalUpperTail(x))))
