import { logNormalCdf } from '../distributions/normal.ts'
import { mean, sorted, standardDeviation } from './moments.ts'
import type { TestResult } from './shapiroWilk.ts'

export const LEAST_FOR_ANDERSON_DARLING = 8

/**
 * Anderson and Darling's A² for normality with mean and spread estimated, and its p-value from the corrected statistic
 * A²(1 + 0.75/n + 2.25/n²) (Stephens, in D'Agostino and Stephens 1986, Goodness-of-Fit Techniques, table 4.9).
 * It weighs the tails more than other tests do. `null` with fewer than 8 values or when all are equal.
 */
export function andersonDarling(values: ArrayLike<number>): TestResult | null {
  const n = values.length
  if (n < LEAST_FOR_ANDERSON_DARLING) return null
  const sd = standardDeviation(values)
  if (sd === 0) return null
  const middle = mean(values)
  const z = sorted(values).map(v => (v - middle) / sd)
  let sum = 0
  for (let i = 0; i < n; i++) sum += (2 * i + 1) * (logNormalCdf(z[i]!) + logNormalCdf(-z[n - 1 - i]!))
  const statistic = -n - sum / n
  return { statistic, p: significance(statistic * (1 + 0.75 / n + 2.25 / n ** 2)) }
}

function significance(a: number): number {
  if (a < 0.2) return 1 - Math.exp(-13.436 + 101.14 * a - 223.73 * a * a)
  if (a < 0.34) return 1 - Math.exp(-8.318 + 42.796 * a - 59.938 * a * a)
  if (a < 0.6) return Math.exp(0.9177 - 4.279 * a - 1.38 * a * a)
  // Beyond 13 the fitted parabola would turn: it ends at its value there, about 1e-31.
  const bent = Math.min(a, 13)
  return Math.exp(1.2937 - 5.709 * bent + 0.0186 * bent * bent)
}
