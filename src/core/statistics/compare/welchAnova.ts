import { fUpperTail } from '../distributions/f.ts'
import { mean, seenVariance } from '../group/moments.ts'
import type { FTest } from './anova.ts'

/**
 * Welch's analysis of variance, for groups that need not scatter alike: Biometrika 38 (1951) 330.
 * `null` with fewer than two groups, a group of one, or a group without scatter (none but rounding).
 */
export function welchAnova(groups: readonly Float64Array[]): FTest | null {
  const k = groups.length
  if (k < 2 || groups.some(g => g.length < 2)) return null
  const weights = groups.map(g => g.length / seenVariance(g))
  if (!weights.every(Number.isFinite)) return null
  const total = weights.reduce((a, b) => a + b, 0)
  const means = groups.map(mean)
  const grand = means.reduce((sum, m, i) => sum + (weights[i]! / total) * m, 0)
  const between = means.reduce((sum, m, i) => sum + weights[i]! * (m - grand) ** 2, 0) / (k - 1)
  const lambda = groups.reduce((sum, g, i) => sum + (1 - weights[i]! / total) ** 2 / (g.length - 1), 0)
  const f = between / (1 + (2 * (k - 2) * lambda) / (k * k - 1))
  const df2 = (k * k - 1) / (3 * lambda)
  return { f, df1: k - 1, df2, p: fUpperTail(f, k - 1, df2) }
}
