import { type LeastSquares, leastSquares } from './leastSquares.ts'

/** A polynomial fitted to (x, y), in powers of x itself. */
export interface PolynomialFit {
  readonly degree: number
  readonly throughZero: boolean
  /** c0, c1, … with y ≈ Σ c_k x^k; c0 is exactly 0 through zero. */
  readonly coefficients: readonly number[]
  /** 0 for the c0 of a fit through zero. */
  readonly standardErrors: readonly number[]
  readonly residuals: Float64Array
  readonly leverages: Float64Array
  /** `null` without degrees of freedom. */
  readonly residualSd: number | null
  readonly df: number
  /** Standard uncertainty of f(x) − f(origin) from the scatter of the points alone; without an origin, of f(x). */
  standardAt(x: number, origin?: number | null): number
  /** By how much f(x) − f(origin) would change if every y moved by its entry of `shift` (f is linear in y). */
  moveOf(shift: ArrayLike<number>): (x: number, origin?: number | null) => number
}

export interface PolynomialOptions {
  readonly degree: number
  readonly throughZero?: boolean
  /** Relative weights, the reciprocal of the variances. */
  readonly weights?: ArrayLike<number>
}

/**
 * Polynomial least squares on x moved to the middle of its range and scaled to ±1, then written in powers of x.
 * Through zero, x is only scaled. `null` where there are too few different x.
 */
export function fitPolynomial(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  { degree, throughZero = false, weights }: PolynomialOptions,
): PolynomialFit | null {
  const xs = Array.from(x)
  const low = xs.reduce((least, v) => Math.min(least, v), Infinity)
  const high = xs.reduce((most, v) => Math.max(most, v), -Infinity)
  const centre = throughZero ? 0 : (low + high) / 2
  const half = throughZero ? Math.max(Math.abs(low), Math.abs(high)) : (high - low) / 2
  if (!(half > 0) || !Number.isFinite(half)) return null
  const powers = Array.from({ length: degree + 1 }, (_, k) => k).slice(throughZero ? 1 : 0)
  const basisAt = (at: number): number[] => powers.map(k => ((at - centre) / half) ** k)
  const rows = xs.map(basisAt)
  const columns = powers.map((_, j) => Float64Array.from(rows, row => row[j]!))
  const fit = leastSquares(columns, y, weights)
  if (fit === null) return null
  const change = inPowersOfX(powers, centre, half, degree)
  const gradient = (at: number, origin: number | null): number[] => {
    const here = basisAt(at)
    if (origin === null) return here
    const there = basisAt(origin)
    return here.map((value, j) => value - there[j]!)
  }
  return {
    degree,
    throughZero,
    coefficients: change.map(row => dot(row, fit.coefficients)),
    standardErrors: change.map(row => (fit.residualSd ?? 0) * Math.sqrt(quadratic(row, fit))),
    residuals: fit.residuals,
    leverages: fit.leverages,
    residualSd: fit.residualSd,
    df: fit.df,
    standardAt: (at, origin = null) =>
      (fit.residualSd ?? 0) * Math.sqrt(quadratic(gradient(at, origin), fit)),
    moveOf: shift => {
      const moved = fit.coefficientsOf(shift)
      return (at, origin = null) => dot(gradient(at, origin), moved)
    },
  }
}

/** Value of Σ c_k x^k (Horner). */
export const polynomialAt = (coefficients: readonly number[], x: number): number =>
  coefficients.reduceRight((sum, c) => sum * x + c, 0)

/** Slope of Σ c_k x^k. */
export const slopeAt = (coefficients: readonly number[], x: number): number =>
  coefficients.reduceRight((sum, c, k) => (k === 0 ? sum : sum * x + k * c), 0)

const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number => {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!
  return sum
}

const quadratic = (row: readonly number[], { inverse }: LeastSquares): number =>
  Math.max(
    0,
    dot(
      row,
      Float64Array.from(inverse, line => dot(line, row)),
    ),
  )

/** Rows of the matrix that turns coefficients of ((x − centre)/half)^k into those of x^i (binomial theorem). */
function inPowersOfX(powers: readonly number[], centre: number, half: number, degree: number): number[][] {
  return Array.from({ length: degree + 1 }, (_, i) =>
    powers.map(k => (k < i ? 0 : (binomial(k, i) * (-centre) ** (k - i)) / half ** k)),
  )
}

function binomial(n: number, k: number): number {
  let value = 1
  for (let i = 1; i <= k; i++) value = (value * (n - k + i)) / i
  return value
}
