import { chiSquareQuantile } from '../distributions/chiSquare.ts'
import { tQuantile } from '../distributions/t.ts'
import { mean, standardDeviation } from './moments.ts'

/** Lower and upper end. */
export type Interval = readonly [low: number, high: number]

/**
 * Student's interval for the mean: m ± t · s/√n (e-Handbook 1.3.5.2). Right for normal values at every n.
 * `null` with fewer than two values, or when all are equal: scatter that cannot be seen is not scatter of nothing.
 */
export function meanInterval(values: ArrayLike<number>, confidence = 0.95): Interval | null {
  const n = values.length
  if (n < 2) return null
  const sd = standardDeviation(values)
  if (sd === 0) return null
  const half = (tQuantile((1 + confidence) / 2, n - 1) * sd) / Math.sqrt(n)
  const middle = mean(values)
  return [middle - half, middle + half]
}

/**
 * Interval for the standard deviation: s √((n − 1)/χ²) (e-Handbook 1.3.5.8, 7.2.3.1). It leans on normality, and more
 * values do not mend that. `null` with fewer than two values or when all are equal.
 */
export function sdInterval(values: ArrayLike<number>, confidence = 0.95): Interval | null {
  const n = values.length
  if (n < 2) return null
  const sd = standardDeviation(values)
  if (sd === 0) return null
  const end = (p: number): number => sd * Math.sqrt((n - 1) / chiSquareQuantile(p, n - 1))
  return [end((1 + confidence) / 2), end((1 - confidence) / 2)]
}
