import gammainc from '@stdlib/math-base-special-gammainc'
import gammaincinv from '@stdlib/math-base-special-gammaincinv'
import gammaln from '@stdlib/math-base-special-gammaln'

/** ln Γ(x), x > 0. */
export const logGamma = (x: number): number => gammaln(x)

/** P(X ≤ x) of the gamma distribution with the given shape and scale 1. */
export const gammaCdf = (x: number, shape: number): number =>
  x <= 0 ? 0 : x === Infinity ? 1 : gammainc(x, shape, true, false)

/** P(X > x): the upper tail. */
export const gammaUpperTail = (x: number, shape: number): number =>
  x <= 0 ? 1 : x === Infinity ? 0 : gammainc(x, shape, true, true)

/** x with P(X ≤ x) = p, scale 1. Good to 14 digits while p is over about 1e-40. */
export const gammaQuantile = (p: number, shape: number): number =>
  p === 0 ? 0 : p === 1 ? Infinity : gammaincinv(p, shape, false)
