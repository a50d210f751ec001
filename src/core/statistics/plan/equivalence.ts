import { chiSquareQuantile } from '../distributions/chiSquare.ts'
import { normalCdf } from '../distributions/normal.ts'
import { maximumModulusCritical } from '../distributions/studentizedMaximumModulus.ts'
import { smallest } from './power.ts'

interface EquivalenceDesign {
  readonly sd: number
  /** Pairs of variants that are judged together. */
  readonly pairs: number
  readonly alpha?: number
}

/** Strata over the scatter that may be found. */
const STRATA = 200

/**
 * Chance that two variants of one mean are shown to lie within ± `margin` of each other: two one-sided tests at the level over
 * all pairs, P(|D| + c s√(2/n) < margin), averaged over the scatter s that may be found, √(χ²/ν) in strata of equal chance
 * (Phillips, J. Pharmacokinet. Biopharm. 18 (1990) 137, has the same by quadrature).
 */
export function equivalencePower(
  margin: number,
  n: number,
  { sd, pairs, alpha = 0.05 }: EquivalenceDesign,
): number {
  const df = 2 * n - 2
  const error = sd * Math.sqrt(2 / n)
  const critical = maximumModulusCritical(2 * alpha, pairs, df)
  let power = 0
  for (let i = 0; i < STRATA; i++) {
    const s = Math.sqrt(chiSquareQuantile((i + 0.5) / STRATA, df) / df)
    const room = margin / error - critical * s
    if (room > 0) power += (2 * normalCdf(room) - 1) / STRATA
  }
  return power
}

/** That number, and half of the 90 % interval by which it is shown; `null` as {@link perGroupForEquivalence}. */
export function designOfEquivalence(
  margin: number,
  design: EquivalenceDesign & { power?: number },
): { readonly perGroup: number; readonly halfWidth: number } | null {
  const perGroup = perGroupForEquivalence(margin, design)
  if (perGroup === null) return null
  const { sd, pairs, alpha = 0.05 } = design
  const critical = maximumModulusCritical(2 * alpha, pairs, 2 * perGroup - 2)
  return { perGroup, halfWidth: critical * sd * Math.sqrt(2 / perGroup) }
}

/** Smallest number of each with which variants of one mean are shown to be as good as each other with the chance `power`. */
export function perGroupForEquivalence(
  margin: number,
  { power = 0.8, ...design }: EquivalenceDesign & { power?: number },
): number | null {
  if (!(margin > 0) || !(design.sd > 0)) return null
  return smallest(n => equivalencePower(margin, n, design) >= power)
}
