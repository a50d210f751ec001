import erfc from '@stdlib/math-base-special-erfc'
import erfcinv from '@stdlib/math-base-special-erfcinv'

const SQRT_2PI = Math.sqrt(2 * Math.PI)

/** Density of the standard normal distribution. */
export const normalPdf = (z: number): number => Math.exp(-0.5 * z * z) / SQRT_2PI

/** P(Z ≤ z) of the standard normal distribution, relatively accurate in the lower tail too. */
export const normalCdf = (z: number): number => 0.5 * erfc(-z * Math.SQRT1_2)

/** P(Z > z): the upper tail, without the loss of digits of 1 − P(Z ≤ z). */
export const normalUpperTail = (z: number): number => 0.5 * erfc(z * Math.SQRT1_2)

/** z with P(Z ≤ z) = p; −∞ and ∞ for p = 0 and 1. */
export const normalQuantile = (p: number): number => -Math.SQRT2 * erfcinv(2 * p)
