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

/**
 * ln P(Z ≤ z), also where the probability itself is too small for a number. Below −35 by the asymptotic series of
 * Abramowitz and Stegun 26.2.12, whose next term is under 1e-12 there.
 */
export function logNormalCdf(z: number): number {
  if (z > -35) return Math.log(normalCdf(z))
  const r = 1 / (z * z)
  return -0.5 * z * z - Math.log(-z * SQRT_2PI) + Math.log1p(-r * (1 - r * (3 - r * (15 - 105 * r))))
}
