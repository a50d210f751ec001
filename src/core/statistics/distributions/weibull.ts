/**
 * The two-parameter Weibull distribution in closed form: P(X > x) = exp(−(x/scale)^shape), x ≥ 0.
 * `expm1` and `log1p` keep the digits of small probabilities.
 */
export const weibullUpperTail = (x: number, shape: number, scale: number): number =>
  x <= 0 ? 1 : Math.exp(-((x / scale) ** shape))

/** P(X ≤ x). */
export const weibullCdf = (x: number, shape: number, scale: number): number =>
  x <= 0 ? 0 : -Math.expm1(-((x / scale) ** shape))

/** x with P(X ≤ x) = p. */
export const weibullQuantile = (p: number, shape: number, scale: number): number =>
  scale * (-Math.log1p(-p)) ** (1 / shape)
