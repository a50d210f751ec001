import { noncentralTUpperTail } from '../distributions/noncentralT.ts'
import { findRoot } from '../distributions/root.ts'
import { tQuantile } from '../distributions/t.ts'

/** Two groups of one scatter, compared by a two-sided t test. */
export interface Design {
  readonly nA: number
  readonly nB: number
  /** Standard deviation within a group. */
  readonly sd: number
  /** Chance of a false alarm; 0.05 unless told. */
  readonly alpha?: number
}

/**
 * Chance that a t test sees a true `difference` of means: exact, by the non-central t distribution with
 * ν = n₁ + n₂ − 2 and non-centrality difference / (sd √(1/n₁ + 1/n₂)). Johnson, Kotz and Balakrishnan 1995, chapter 31.
 * `null` where there is no test: fewer than three specimens in all, an empty group, no scatter.
 */
export function powerOf(difference: number, { nA, nB, sd, alpha = 0.05 }: Design): number | null {
  const df = nA + nB - 2
  if (nA < 1 || nB < 1 || df < 1 || !(sd > 0)) return null
  const critical = tQuantile(1 - alpha / 2, df)
  return powerBy(difference, { standardError: sd * Math.sqrt(1 / nA + 1 / nB), df, critical })
}

/** The smallest true difference that would be seen with the chance `power`; `null` where there is no test. */
export function detectableDifference(design: Design, power = 0.8): number | null {
  if (powerOf(0, design) === null) return null
  const { nA, nB, sd, alpha = 0.05 } = design
  const df = nA + nB - 2
  return detectableBy(
    { standardError: sd * Math.sqrt(1 / nA + 1 / nB), df, critical: tQuantile(1 - alpha / 2, df) },
    power,
  )
}

/** A difference with the standard error that is expected of it, and the |t| from which on it counts as seen. */
export interface ExpectedTest {
  readonly standardError: number
  readonly df: number
  readonly critical: number
}

/** Chance that a true `difference` is seen by the test: non-central t, as {@link powerOf}. */
export function powerBy(difference: number, { standardError, df, critical }: ExpectedTest): number {
  const shift = Math.abs(difference) / standardError
  return noncentralTUpperTail(critical, df, shift) + noncentralTUpperTail(critical, df, -shift)
}

/** The smallest true difference that the test would see with the chance `power`. */
export function detectableBy(test: ExpectedTest, power = 0.8): number {
  let high = 4 * test.standardError
  while (powerBy(high, test) < power) high *= 2
  return findRoot(difference => powerBy(difference, test) - power, 0, high)
}

/** Beyond this many of each a bench is the wrong place. */
export const MOST_PER_GROUP = 100_000

/**
 * Smallest number of each of two groups with which a true `difference` is seen with the chance `power`;
 * `null` where not even {@link MOST_PER_GROUP} would do. At least 2.
 */
export function perGroupForDifference(
  difference: number,
  { sd, alpha = 0.05, power = 0.8 }: { sd: number; alpha?: number; power?: number },
): number | null {
  if (!(Math.abs(difference) > 0) || !(sd > 0)) return null
  return smallest(n => powerOf(difference, { nA: n, nB: n, sd, alpha })! >= power)
}

/** The smallest whole number from 2 that is enough, given that more never is too little. */
export function smallest(enough: (n: number) => boolean): number | null {
  let high = 2
  while (!enough(high)) {
    if (high >= MOST_PER_GROUP) return null
    high = Math.min(MOST_PER_GROUP, high * 2)
  }
  let low = Math.max(1, Math.floor(high / 2))
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2)
    if (enough(middle)) high = middle
    else low = middle
  }
  return high
}

/** Power against the number of each group, for the figure. */
export function powerCurve(
  powerWith: (n: number) => number | null,
  upTo: number,
): { perGroup: number; power: number }[] {
  const points = Array.from({ length: Math.max(1, upTo - 1) }, (_, i) => i + 2)
  return points.map(n => ({ perGroup: n, power: powerWith(n) ?? 0 }))
}
