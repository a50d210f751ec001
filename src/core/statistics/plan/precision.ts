import { chiSquareQuantile } from '../distributions/chiSquare.ts'
import { logGamma } from '../distributions/gamma.ts'
import { noncentralTUpperTail } from '../distributions/noncentralT.ts'
import { normalQuantile } from '../distributions/normal.ts'
import { tQuantile } from '../distributions/t.ts'
import { normalBoundFactor } from '../group/lowerBound.ts'
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

/**
 * Smallest number with which the bound lies, on average, no more than `within` below the true quantile that it stands
 * for: (k c₄ − z) σ, c₄ the mean of s/σ.
 */
export function specimensForBoundWithin(within: number, { share, sd }: BoundGoal): number | null {
  if (!(within > 0) || !(sd > 0)) return null
  return smallest(n => (normalBoundFactor(n, share) * c4(n) - normalQuantile(share)) * sd <= within)
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
    return (
      noncentralTUpperTail(normalBoundFactor(n, share) * root, n - 1, (root * (mean - required)) / sd) >=
      power
    )
  })
}

/** E(s)/σ for n normal values. */
const c4 = (n: number): number => Math.sqrt(2 / (n - 1)) * Math.exp(logGamma(n / 2) - logGamma((n - 1) / 2))
