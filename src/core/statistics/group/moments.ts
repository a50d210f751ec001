/** Values beyond this, either way of 0, are no measurement of anything, and their cubes would leave the range of numbers. */
export const GREATEST_VALUE = 1e30

/**
 * Mean, in two passes: a first mean, then the mean of what is left over it, which takes back what rounding lost
 * (Neumaier 1974; Chan, Golub and LeVeque 1983, Amer. Statist. 37:242). Needs at least one value.
 */
export function mean(values: ArrayLike<number>): number {
  const n = values.length
  let sum = 0
  for (let i = 0; i < n; i++) sum += values[i]!
  const first = sum / n
  let rest = 0
  for (let i = 0; i < n; i++) rest += values[i]! - first
  return first + rest / n
}

/**
 * Variance with n − 1: corrected two-pass, Σ(x − m)² − (Σ(x − m))²/n (Chan, Golub and LeVeque 1983).
 * Needs at least two values.
 */
export function variance(values: ArrayLike<number>): number {
  const n = values.length
  const middle = mean(values)
  let squares = 0
  let rest = 0
  for (let i = 0; i < n; i++) {
    const off = values[i]! - middle
    squares += off * off
    rest += off
  }
  return Math.max(0, squares - (rest * rest) / n) / (n - 1)
}

/** A few dozen roundings of a binary number make so much of it; what is below is no scatter. */
export const ROUNDING = 1e-14

/** Variance, 0 where it is no more than rounding: values that were shifted by a zero and are alike. */
export function seenVariance(values: ArrayLike<number>): number {
  const found = variance(values)
  return Math.sqrt(found) <= ROUNDING * Math.abs(mean(values)) ? 0 : found
}

/** Standard deviation with n − 1; 0 where it is no more than rounding. Needs at least two values. */
export const standardDeviation = (values: ArrayLike<number>): number => Math.sqrt(seenVariance(values))

/** Whether any group shows a scatter that is more than rounding. */
export const anyScatters = (groups: readonly ArrayLike<number>[]): boolean =>
  groups.some(g => g.length > 1 && seenVariance(g) > 0)

/** A copy in rising order. */
export const sorted = (values: ArrayLike<number>): Float64Array => Float64Array.from(values).sort()

/**
 * The quantile of values already in rising order, by straight lines between them so that the first value is the 0 and the
 * last the 1 quantile: rule 7 of Hyndman and Fan (1996, Amer. Statist. 50:361). Needs at least one value.
 */
export function quantileSorted(ordered: ArrayLike<number>, p: number): number {
  const at = (ordered.length - 1) * p
  const below = Math.floor(at)
  const low = ordered[below]!
  const high = ordered[Math.min(below + 1, ordered.length - 1)]!
  return low + (at - below) * (high - low)
}

/** The middle value, or the mean of the two middle ones. Needs at least one value. */
export const median = (values: ArrayLike<number>): number => quantileSorted(sorted(values), 0.5)

/**
 * Correlation of each value with the one before it: Σ(x_i − m)(x_{i+1} − m)/Σ(x_i − m)².
 * `null` with fewer than two values or when all are equal.
 */
export function lag1Autocorrelation(values: ArrayLike<number>): number | null {
  if (values.length < 2) return null
  const middle = mean(values)
  let products = 0
  let squares = 0
  for (let i = 0; i < values.length; i++) {
    const off = values[i]! - middle
    squares += off * off
    if (i > 0) products += off * (values[i - 1]! - middle)
  }
  return squares > 0 ? products / squares : null
}
