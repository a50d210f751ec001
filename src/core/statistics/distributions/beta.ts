import betainc from '@stdlib/math-base-special-betainc'
import betaincinv from '@stdlib/math-base-special-betaincinv'

/** P(X ≤ x) of the beta distribution: the regularised incomplete beta function I_x(a, b). */
export const betaCdf = (x: number, a: number, b: number): number =>
  x <= 0 ? 0 : x >= 1 ? 1 : betainc(x, a, b, true, false)

/** P(X > x): the upper tail. */
export const betaUpperTail = (x: number, a: number, b: number): number =>
  x <= 0 ? 1 : x >= 1 ? 0 : betainc(x, a, b, true, true)

/** x with P(X ≤ x) = p. */
export const betaQuantile = (p: number, a: number, b: number): number => betaincinv(p, a, b, false)

/** x with P(X > x) = p. */
export const betaUpperQuantile = (p: number, a: number, b: number): number => betaincinv(p, a, b, true)
