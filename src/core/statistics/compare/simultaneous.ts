import { manyToOneCritical, manyToOneUpperTail } from '../distributions/manyToOne.ts'
import { findRoot } from '../distributions/root.ts'
import {
  maximumModulusCritical,
  maximumModulusUpperTail,
} from '../distributions/studentizedMaximumModulus.ts'
import { tQuantile, tTwoSided } from '../distributions/t.ts'
import { calibratedP, levelFor, type WelchParts } from './stageLimit.ts'

/** A difference and how well it is known. */
export interface Estimate {
  readonly difference: number
  /** From the scatter of the specimens, on `df` degrees of freedom. */
  readonly standardError: number
  readonly df: number
  /** Standard uncertainty that the scatter does not show: what the groups do not share of the scale's doubt; 0 for none. */
  readonly shared: number
}

/** All differences that are judged together. */
export interface Family {
  /** How many there are. */
  readonly count: number
  /** Chance of even one false alarm among them; 0.05 unless an earlier look has spent some of it. */
  readonly level: number
  /** Where all compare with one control: how much each hangs on the control's own chance. Else absent or `null`. */
  readonly loadings?: readonly number[] | null
}

/** |t| from which on a difference of `df` degrees of freedom counts as seen in its family. */
export const criticalIn = ({ count, level, loadings = null }: Family, df: number): number =>
  loadings === null
    ? maximumModulusCritical(level, Math.max(1, count), df)
    : manyToOneCritical(level, loadings, df)

/** The chance that any of the family passes `t` by chance alone. */
const upperTailIn = (
  t: number,
  { count, loadings = null }: Pick<Family, 'count' | 'loadings'>,
  df: number,
) => (loadings === null ? maximumModulusUpperTail(t, count, df) : manyToOneUpperTail(t, loadings, df))

/** One comparison by itself. */
export const ALONE = { count: 1 } as const

/**
 * Half-width of the interval that holds for all differences of the family together, with the chance 1 − `level`.
 *
 * Scatter: Dunnett's T3 (JASA 75 (1980) 796), the critical value of the studentized maximum modulus with each pair's own
 * degrees of freedom: it keeps its level in small groups whose scatters need not be alike. The shared part is as good as
 * normal and joins as half-widths in quadrature, so that no interval is shorter for a doubt more. Against one control the
 * critical value is Dunnett's, each pair again with its own degrees of freedom and the correlations from the scatters found
 * (Hasler and Hothorn, Biometrical J. 50 (2008) 793).
 *
 * `found`: what the scatter rests on, where the pair is judged at one of several looks and Welch's test is calibrated for it.
 */
export function simultaneousHalf(
  { standardError, df, shared }: Estimate,
  family: Family,
  found: WelchParts | null = null,
): number {
  const plain = criticalIn(family, df)
  const critical = found === null ? plain : -tQuantile(levelFor(tTwoSided(plain, df), found) / 2, df)
  const half = critical * standardError
  return shared > 0 ? Math.hypot(half, criticalIn(family, Infinity) * shared) : half
}

/**
 * The level at which the simultaneous interval just reaches 0: the adjusted p. It is under the family's level exactly
 * where the interval leaves 0 out, because both are the one statement.
 */
export function simultaneousP(
  estimate: Estimate,
  family: Pick<Family, 'count' | 'loadings'>,
  found: WelchParts | null = null,
): number {
  const { difference, standardError, df, shared } = estimate
  const plain = Math.abs(difference) / standardError
  const t = found === null ? plain : -tQuantile(calibratedP(tTwoSided(plain, df), found) / 2, df)
  const least = upperTailIn(t, family, df)
  if (!(shared > 0)) return least
  const off = (logP: number): number =>
    simultaneousHalf(estimate, { ...family, level: Math.exp(logP) }, found) - Math.abs(difference)
  const [low, high] = [Math.log(Math.max(least, 1e-15)), Math.log(0.999_999)]
  if (off(high) > 0) return 1
  if (off(low) < 0) return least
  return Math.exp(findRoot(off, low, high))
}

/** p of ranks, for which there is no interval, adjusted for the family: 1 − (1 − p)^count (Šidák). */
export const sidak = (p: number, count: number): number => -Math.expm1(count * Math.log1p(-p))
