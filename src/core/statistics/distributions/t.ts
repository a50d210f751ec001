import { betaCdf, betaQuantile, betaUpperQuantile, betaUpperTail } from './beta.ts'
import { normalQuantile, normalUpperTail } from './normal.ts'

/**
 * P(|T| ≥ |t|) of Student's t with `df` degrees of freedom (any positive number, or ∞ for the normal): the p-value of a
 * two-sided test. I_y(df/2, 1/2) with y = df/(df + t²) (Abramowitz and Stegun 26.7.1), from whichever of y and 1 − y
 * is the smaller, so that no digits are lost.
 */
export function tTwoSided(t: number, df: number): number {
  if (df === Infinity) return 2 * normalUpperTail(Math.abs(t))
  const square = t * t
  if (square === Infinity) return 0
  return square < df
    ? betaUpperTail(square / (df + square), 0.5, df / 2)
    : betaCdf(df / (df + square), df / 2, 0.5)
}

/** P(T ≤ t), relatively accurate in both tails. */
export const tCdf = (t: number, df: number): number =>
  t <= 0 ? tTwoSided(t, df) / 2 : 1 - tTwoSided(t, df) / 2

/** P(T > t): the upper tail. */
export const tUpperTail = (t: number, df: number): number => tCdf(-t, df)

/** t with P(T ≤ t) = p. */
export function tQuantile(p: number, df: number): number {
  if (df === Infinity) return normalQuantile(p)
  if (p === 0.5) return 0
  if (p > 0.5) return -tQuantile(1 - p, df)
  if (p === 0) return -Infinity
  const y = betaUpperQuantile(2 * p, 0.5, df / 2) // t²/(df + t²)
  if (y <= 0.5) return -Math.sqrt((df * y) / (1 - y))
  const rest = betaQuantile(2 * p, df / 2, 0.5) // df/(df + t²)
  return -Math.sqrt((df * (1 - rest)) / rest)
}
