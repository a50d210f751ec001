import { gammaCdf, gammaQuantile, gammaUpperTail } from './gamma.ts'

/** P(X ≤ x) of chi-square with `df` degrees of freedom: a gamma of shape df/2 and scale 2. */
export const chiSquareCdf = (x: number, df: number): number => gammaCdf(x / 2, df / 2)

/** P(X > x): the upper tail, from which p-values come. */
export const chiSquareUpperTail = (x: number, df: number): number => gammaUpperTail(x / 2, df / 2)

/** x with P(X ≤ x) = p. */
export const chiSquareQuantile = (p: number, df: number): number => 2 * gammaQuantile(p, df / 2)
