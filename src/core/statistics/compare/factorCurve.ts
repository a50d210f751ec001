import { Matrix, QrDecomposition } from 'ml-matrix'
import { fQuantile } from '../distributions/f.ts'
import { tTwoSided } from '../distributions/t.ts'
import { lengthThrough } from './combination.ts'

export interface FactorCurve {
  readonly degree: 1 | 2
  readonly points: {
    readonly at: number
    readonly value: number
    readonly low: number
    readonly high: number
  }[]
}

interface Value {
  readonly x: number
  readonly y: number
}

/** Places at which the curve is laid down, ends included. */
const POINTS = 33

/**
 * The mean over a number as a polynomial with the band of Working and Hotelling, which holds the whole curve 95 times in 100
 * (J. Am. Stat. Assoc. 24 (1929) 73; Draper and Smith, Applied Regression Analysis, 1998, chapter 3). `null` with no degree of freedom left or no scatter.
 */
export function factorCurve(values: readonly Value[], degree: 1 | 2): FactorCurve | null {
  const fit = fitted(values, degree)
  if (fit === null) return null
  const { coefficients, r, rowAt, sd, df } = fit
  const count = degree + 1
  const reach = Math.sqrt(count * fQuantile(0.95, count, df)) * sd
  const xs = values.map(v => v.x)
  const [from, to] = [Math.min(...xs), Math.max(...xs)]
  const points = Array.from({ length: POINTS }, (_, i) => {
    const at = from + ((to - from) * i) / (POINTS - 1)
    const row = rowAt(at)
    const value = row.reduce((sum, c, j) => sum + c * coefficients[j]!, 0)
    const half = reach * lengthThrough(r, row)
    return { at, value, low: value - half, high: value + half }
  })
  return { degree, points }
}

/** t of the square beside the line. */
export function bendOf(values: readonly Value[]): { t: number; df: number; p: number } | null {
  if (new Set(values.map(v => v.x)).size < 3) return null
  const fit = fitted(values, 2)
  if (fit === null) return null
  const t = fit.coefficients[2]! / (fit.sd * lengthThrough(fit.r, [0, 0, 1]))
  return { t, df: fit.df, p: tTwoSided(t, fit.df) }
}

function fitted(values: readonly Value[], degree: 1 | 2) {
  const xs = values.map(v => v.x)
  const [from, to] = [Math.min(...xs), Math.max(...xs)]
  const df = values.length - degree - 1
  if (df < 1 || !(to > from)) return null
  // Over −1 … 1, so that squares are no larger than the rest.
  const rowAt = (x: number): number[] => {
    const u = (2 * x - from - to) / (to - from)
    return degree === 1 ? [1, u] : [1, u, u * u]
  }
  const design = new Matrix(values.map(v => rowAt(v.x)))
  const qr = new QrDecomposition(design)
  const coefficients = qr.solve(Matrix.columnVector(values.map(v => v.y))).to1DArray()
  const rss = values.reduce((sum, v) => {
    const line = rowAt(v.x).reduce((all, c, j) => all + c * coefficients[j]!, 0)
    return sum + (v.y - line) ** 2
  }, 0)
  const sd = Math.sqrt(rss / df)
  return sd > 0 ? { coefficients, r: qr.upperTriangularMatrix, rowAt, sd, df } : null
}
