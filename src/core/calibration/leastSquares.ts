/** A linear least-squares fit: response ≈ Σ coefficient × column. */
export interface LeastSquares {
  readonly coefficients: Float64Array
  /** Residual sd × root of the diagonal of (XᵀWX)⁻¹. Zero where there are no degrees of freedom left to judge by. */
  readonly standardErrors: Float64Array
  /** (XᵀWX)⁻¹, row by row: times `residualSd`² it is the covariance of the coefficients. */
  readonly inverse: readonly Float64Array[]
  /** Response less fitted value, in the order given and without weights. */
  readonly residuals: Float64Array
  /** Leverage of each observation: the diagonal of the hat matrix. */
  readonly leverages: Float64Array
  /** √(Σ w r² / df); `null` without degrees of freedom. */
  readonly residualSd: number | null
  readonly df: number
  /** The coefficients that another response would give on the same columns and weights. They are linear in it. */
  coefficientsOf(response: ArrayLike<number>): Float64Array
}

/** Smallest ratio of a column's rest to its length at which the columns still count as independent. */
const INDEPENDENT = 1e-13

/**
 * Least squares by Householder reflections on columns scaled to unit length (Businger and Golub 1965, Numer. Math. 7:269),
 * followed by refinement with residuals in doubled precision (Björck 1967, BIT 7:257, the step for small residuals).
 *
 * `columns` are the design matrix column by column, each as long as `response`; `weights` are relative, the reciprocal
 * of the variances. Gives `null` where there are fewer observations than columns or the columns are not independent.
 */
export function leastSquares(
  columns: readonly ArrayLike<number>[],
  response: ArrayLike<number>,
  weights?: ArrayLike<number>,
): LeastSquares | null {
  const n = response.length
  const p = columns.length
  if (n < p) return null
  const root = Float64Array.from({ length: n }, (_, i) => (weights ? Math.sqrt(weights[i]!) : 1))
  const lengths = columns.map(column => Math.hypot(...Array.from(root, (w, i) => w * column[i]!)))
  if (lengths.some(length => !(length > 0) || !Number.isFinite(length))) return null
  const reflected = reflect(columns.map((c, j) => root.map((w, i) => (w * c[i]!) / lengths[j]!)))
  if (reflected === null) return null

  const solve = (y: ArrayLike<number>): Float64Array => {
    const scaled = backSubstitute(
      reflected,
      applyReflections(
        reflected,
        root.map((w, i) => w * y[i]!),
      ),
    )
    return scaled.map((c, j) => c / lengths[j]!)
  }
  const coefficientsOf = (y: ArrayLike<number>): Float64Array => {
    let coefficients = solve(y)
    for (let step = 0; step < 2; step++) {
      const correction = solve(residualsOf(columns, y, coefficients))
      coefficients = coefficients.map((c, j) => c + correction[j]!)
    }
    return coefficients
  }

  const coefficients = coefficientsOf(response)
  const residuals = residualsOf(columns, response, coefficients)
  const df = n - p
  const sum = residuals.reduce((total, r, i) => total + (root[i]! * r) ** 2, 0)
  const residualSd = df > 0 ? Math.sqrt(sum / df) : null
  const inverse = inverseOf(reflected, lengths)
  return {
    coefficients,
    standardErrors: Float64Array.from(inverse, (row, j) => (residualSd ?? 0) * Math.sqrt(row[j]!)),
    inverse,
    residuals,
    leverages: leveragesOf(reflected, n),
    residualSd,
    df,
    coefficientsOf,
  }
}

/** Reflection vectors below and on the diagonal, R above it with its diagonal apart. */
interface Reflected {
  readonly columns: readonly Float64Array[]
  readonly diagonal: Float64Array
}

function reflect(start: readonly Float64Array[]): Reflected | null {
  const columns = start.map(column => Float64Array.from(column))
  const diagonal = new Float64Array(columns.length)
  for (let k = 0; k < columns.length; k++) {
    const v = columns[k]!
    let norm = 0
    for (let i = k; i < v.length; i++) norm += v[i]! * v[i]!
    norm = Math.sqrt(norm)
    if (norm < INDEPENDENT) return null
    const sign = v[k]! > 0 ? -1 : 1
    diagonal[k] = sign * norm
    for (let i = k; i < v.length; i++) v[i] = v[i]! / norm
    v[k] = v[k]! - sign
    for (let j = k + 1; j < columns.length; j++) reflectOne(v, columns[j]!, k)
  }
  return { columns, diagonal }
}

/** With v = u/|u| ∓ e, the reflection is I − v vᵀ / |v_k|. */
function reflectOne(v: Float64Array, target: Float64Array, from: number): void {
  let product = 0
  for (let i = from; i < v.length; i++) product += v[i]! * target[i]!
  const factor = product / Math.abs(v[from]!)
  for (let i = from; i < v.length; i++) target[i] = target[i]! - factor * v[i]!
}

function applyReflections({ columns }: Reflected, y: Float64Array): Float64Array {
  const turned = Float64Array.from(y)
  columns.forEach((v, k) => {
    reflectOne(v, turned, k)
  })
  return turned
}

function backSubstitute({ columns, diagonal }: Reflected, turned: Float64Array): Float64Array {
  const solution = new Float64Array(columns.length)
  for (let k = columns.length - 1; k >= 0; k--) {
    let rest = turned[k]!
    for (let j = k + 1; j < columns.length; j++) rest -= columns[j]![k]! * solution[j]!
    solution[k] = rest / diagonal[k]!
  }
  return solution
}

/** (RᵀR)⁻¹ of the unscaled columns. */
function inverseOf(reflected: Reflected, lengths: readonly number[]): Float64Array[] {
  const p = lengths.length
  const columns = lengths.map((_, k) =>
    backSubstitute(
      reflected,
      Float64Array.from({ length: p }, (_, i) => (i === k ? 1 : 0)),
    ),
  )
  return lengths.map((lengthI, i) =>
    Float64Array.from(lengths, (lengthJ, j) => {
      let sum = 0
      for (const column of columns) sum += column[i]! * column[j]!
      return sum / (lengthI * lengthJ)
    }),
  )
}

/** Row sums of squares of the first p columns of Q. */
function leveragesOf(reflected: Reflected, n: number): Float64Array {
  const leverages = new Float64Array(n)
  for (let k = 0; k < reflected.columns.length; k++) {
    const unit = new Float64Array(n)
    unit[k] = 1
    for (let j = k; j >= 0; j--) reflectOne(reflected.columns[j]!, unit, j)
    for (let i = 0; i < n; i++) leverages[i] = leverages[i]! + unit[i]! * unit[i]!
  }
  return leverages
}

/** Response less Σ coefficient × column, summed in doubled precision (Ogita, Rump and Oishi 2005, algorithm Dot2). */
function residualsOf(
  columns: readonly ArrayLike<number>[],
  response: ArrayLike<number>,
  coefficients: Float64Array,
): Float64Array {
  return Float64Array.from({ length: response.length }, (_, i) => {
    let high = response[i]!
    let low = 0
    for (let j = 0; j < columns.length; j++) {
      const product = -coefficients[j]! * columns[j]![i]!
      low += productError(-coefficients[j]!, columns[j]![i]!, product)
      const sum = high + product
      const part = sum - high
      low += high - (sum - part) + (product - part)
      high = sum
    }
    return high + low
  })
}

/** What rounding took from a × b (Dekker 1971; Veltkamp's splitting). */
function productError(a: number, b: number, product: number): number {
  const aHigh = splitHigh(a)
  const bHigh = splitHigh(b)
  const aLow = a - aHigh
  const bLow = b - bHigh
  return aLow * bLow - (product - aHigh * bHigh - aLow * bHigh - aHigh * bLow)
}

function splitHigh(a: number): number {
  const shifted = 134_217_729 * a
  return shifted - (shifted - a)
}
