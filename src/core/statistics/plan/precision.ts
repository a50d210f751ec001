import { chiSquareQuantile } from '../distributions/chiSquare.ts'
import { logGamma } from '../distributions/gamma.ts'
import { noncentralTQuantile, noncentralTUpperTail } from '../distributions/noncentralT.ts'
import { normalQuantile } from '../distributions/normal.ts'
import { tQuantile } from '../distributions/t.ts'
import { smallest } from './power.ts'

/**
 * Smallest number of specimens with which the 95 % interval of a mean is no wider than ± `halfWidth`, with the chance
 * `assurance`: the scatter that will be found may exceed the one assumed. t s/√n with s at its `assurance` quantile,
 * σ √(χ²/(n − 1)): Kupper and Hafner, Amer. Statist. 43 (1989) 101. `null` where no number of ours would do.
 */
export function specimensForHalfWidth(
  halfWidth: number,
  { sd, assurance = 0.8 }: { sd: number; assurance?: number },
): number | null {
  if (!(halfWidth > 0) || !(sd > 0)) return null
  return smallest(n => {
    const unlucky = sd * Math.sqrt(chiSquareQuantile(assurance, n - 1) / (n - 1))
    return (tQuantile(0.975, n - 1) * unlucky) / Math.sqrt(n) <= halfWidth
  })
}

/** A bound that `share` of all specimens exceed, with 95 % confidence. */
export interface BoundGoal {
  readonly share: number
  readonly sd: number
}

/** k of the normal lower bound, mean − k s: t′(0.95; n − 1, z √n)/√n (Owen 1968, Technometrics 10:445). */
const boundFactor = (n: number, share: number): number =>
  noncentralTQuantile(0.95, n - 1, normalQuantile(share) * Math.sqrt(n)) / Math.sqrt(n)

/**
 * Smallest number with which the bound lies, on average, no more than `within` below the true quantile that it stands
 * for: (k c₄ − z) σ, c₄ the mean of s/σ.
 */
export function specimensForBoundWithin(within: number, { share, sd }: BoundGoal): number | null {
  if (!(within > 0) || !(sd > 0)) return null
  return smallest(n => (boundFactor(n, share) * c4(n) - normalQuantile(share)) * sd <= within)
}

/**
 * Smallest number with which the bound comes out above `required` with the chance `power`, if specimens are as
 * assumed: mean − k s > required where √n (mean − required)/s > k √n, a non-central t.
 * `null` where too many fall below the required value for any number to do.
 */
export function specimensForBoundAbove(
  required: number,
  { share, sd, mean, power = 0.8 }: BoundGoal & { mean: number; power?: number },
): number | null {
  if (!(sd > 0) || (mean - required) / sd <= normalQuantile(share)) return null
  return smallest(n => {
    const root = Math.sqrt(n)
    return noncentralTUpperTail(boundFactor(n, share) * root, n - 1, (root * (mean - required)) / sd) >= power
  })
}

/** Number with which the smallest of all is such a bound, whatever the distribution: 1 − share^n ≥ 0.95 (Wilks 1941). */
export const specimensWithoutDistribution = (share: number): number =>
  Math.ceil(Math.log(0.05) / Math.log(share))

/** E(s)/σ for n normal values. */
const c4 = (n: number): number => Math.sqrt(2 / (n - 1)) * Math.exp(logGamma(n / 2) - logGamma((n - 1) / 2))
