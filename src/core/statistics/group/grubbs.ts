import { tQuantile } from '../distributions/t.ts'
import { mean, standardDeviation } from './moments.ts'
import type { Suspect } from './suspect.ts'

const LEAST_FOR_GRUBBS = 3

/** The value farthest from the mean, and its distance in standard deviations; `null` without scatter. */
export function farthest(values: ArrayLike<number>): { index: number; statistic: number } | null {
  if (values.length < LEAST_FOR_GRUBBS) return null
  const sd = standardDeviation(values)
  if (sd === 0) return null
  const middle = mean(values)
  let index = 0
  for (let i = 1; i < values.length; i++) {
    if (Math.abs(values[i]! - middle) > Math.abs(values[index]! - middle)) index = i
  }
  return { index, statistic: Math.abs(values[index]! - middle) / sd }
}

/**
 * Grubbs's critical value for either end: (n − 1)/√n · √(t²/(n − 2 + t²)), t at 1 − α/(2n) with n − 2 degrees of freedom
 * (e-Handbook 1.3.5.17.1). Exact where two values cannot both lie so far out, else on the safe side. n ≥ 3.
 */
export function grubbsCritical(n: number, alpha = 0.05): number {
  const t = tQuantile(alpha / (2 * n), n - 2)
  return ((n - 1) / Math.sqrt(n)) * Math.sqrt((t * t) / (n - 2 + t * t))
}

/** The farthest value if Grubbs's two-sided test suspects it; `null` if not, or where the test cannot be had. */
export function grubbs(values: ArrayLike<number>, alpha = 0.05): Suspect | null {
  const far = farthest(values)
  if (far === null) return null
  const critical = grubbsCritical(values.length, alpha)
  if (far.statistic <= critical) return null
  return { ...far, value: values[far.index]!, test: 'Grubbs', critical }
}
