import { normalQuantile, normalUpperTail } from '../distributions/normal.ts'
import { sorted } from './moments.ts'

/** Statistic of a test and its p-value. */
export interface TestResult {
  readonly statistic: number
  readonly p: number
}

export const LEAST_FOR_SHAPIRO_WILK = 3

/** a₀ + a₁x + a₂x² + … */
const polynomial = (x: number, ...coefficients: readonly number[]): number =>
  coefficients.reduceRight((sum, c) => sum * x + c, 0)

/**
 * Shapiro and Wilk's W, and the p-value for normality: Royston 1995 (Applied Statistics 44:547, algorithm AS R94).
 * `null` for fewer than 3 or more than 5,000 values, or when all are equal. With few values it sees only gross departures.
 */
export function shapiroWilk(values: ArrayLike<number>): TestResult | null {
  const n = values.length
  if (n < LEAST_FOR_SHAPIRO_WILK || n > 5000) return null
  const x = sorted(values)
  const range = x[n - 1]! - x[0]!
  if (!(range > 0)) return null
  const weights = halfWeights(n)
  // Divided by the range, and about the middle value: W does not change, and no digits are lost.
  const centre = x[n >> 1]!
  const y = x.map(v => (v - centre) / range)
  const average = y.reduce((a, b) => a + b, 0) / n
  const squares = y.reduce((sum, v) => sum + (v - average) ** 2, 0)
  const contrast = weights.reduce((sum, a, i) => sum + a * (y[n - 1 - i]! - y[i]!), 0)
  const statistic = Math.min(1, contrast ** 2 / squares)
  return { statistic, p: significance(statistic, n) }
}

/** Weights of the differences between opposite ordered values, the outermost first. */
function halfWeights(n: number): readonly number[] {
  if (n === 3) return [Math.SQRT1_2]
  const half = n >> 1
  const scores = Array.from({ length: half }, (_, i) => -normalQuantile((i + 1 - 0.375) / (n + 0.25)))
  const squares = 2 * scores.reduce((sum, m) => sum + m * m, 0)
  const u = 1 / Math.sqrt(n)
  const first =
    scores[0]! / Math.sqrt(squares) + polynomial(u, 0, 0.221157, -0.147981, -2.07119, 4.434685, -2.706056)
  if (n <= 5) {
    const scale = Math.sqrt((squares - 2 * scores[0]! ** 2) / (1 - 2 * first ** 2))
    return [first, ...scores.slice(1).map(m => m / scale)]
  }
  const second =
    scores[1]! / Math.sqrt(squares) + polynomial(u, 0, 0.042981, -0.293762, -1.752461, 5.682633, -3.582633)
  const scale = Math.sqrt(
    (squares - 2 * scores[0]! ** 2 - 2 * scores[1]! ** 2) / (1 - 2 * first ** 2 - 2 * second ** 2),
  )
  return [first, second, ...scores.slice(2).map(m => m / scale)]
}

function significance(w: number, n: number): number {
  if (n === 3) return Math.max(0, (6 / Math.PI) * (Math.asin(Math.sqrt(w)) - Math.asin(Math.sqrt(0.75))))
  const log = Math.log1p(-w)
  if (n <= 11) {
    const limit = polynomial(n, -2.273, 0.459)
    if (log >= limit) return 0
    const middle = polynomial(n, 0.544, -0.39978, 0.025054, -6.714e-4)
    const spread = Math.exp(polynomial(n, 1.3822, -0.77857, 0.062767, -0.0020322))
    return normalUpperTail((-Math.log(limit - log) - middle) / spread)
  }
  const logN = Math.log(n)
  const middle = polynomial(logN, -1.5861, -0.31082, -0.083751, 0.0038915)
  const spread = Math.exp(polynomial(logN, -0.4803, -0.082676, 0.0030302))
  return normalUpperTail((log - middle) / spread)
}
