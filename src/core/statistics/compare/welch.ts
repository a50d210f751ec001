import { tQuantile, tTwoSided } from '../distributions/t.ts'
import { mean, variance } from '../group/moments.ts'

export interface WelchTest {
  /** Mean of the first less mean of the second. */
  readonly difference: number
  readonly standardError: number
  readonly ci95: readonly [number, number]
  readonly t: number
  readonly df: number
  /** Two-sided. */
  readonly p: number
}

/**
 * Difference of two means where the scatters need not be alike: Welch, Biometrika 34 (1947) 28, degrees of freedom
 * after Satterthwaite. Needs two values in each group and some scatter; else `null`.
 */
export function welch(a: Float64Array, b: Float64Array): WelchTest | null {
  if (a.length < 2 || b.length < 2) return null
  const partA = variance(a) / a.length
  const partB = variance(b) / b.length
  const standardError = Math.sqrt(partA + partB)
  if (!(standardError > 0)) return null
  const df = (partA + partB) ** 2 / (partA ** 2 / (a.length - 1) + partB ** 2 / (b.length - 1))
  const difference = mean(a) - mean(b)
  const half = tQuantile(0.975, df) * standardError
  const t = difference / standardError
  return {
    difference,
    standardError,
    ci95: [difference - half, difference + half],
    t,
    df,
    p: tTwoSided(t, df),
  }
}
