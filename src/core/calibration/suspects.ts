import { tTwoSided } from '../statistics/distributions/t.ts'
import type { PolynomialFit } from './polynomial.ts'

/** Chance of naming any point of a sound calibration. */
const FALSE_ALARM = 0.01

/**
 * Indices of points far off the others: externally studentised residuals against Student's t with Bonferroni's allowance
 * (Cook and Weisberg 1982, Residuals and Influence in Regression, 2.2). Empty where fewer than three degrees of freedom
 * are left to judge by.
 */
export function suspectPoints(fit: PolynomialFit, weights?: ArrayLike<number>): number[] {
  const { residuals, leverages, df, residualSd } = fit
  if (df < 3 || residualSd === null || residualSd === 0) return []
  const n = residuals.length
  const total = residualSd ** 2 * df
  const found: number[] = []
  for (let i = 0; i < n; i++) {
    const free = 1 - leverages[i]!
    const square = (weights?.[i] ?? 1) * residuals[i]! ** 2
    if (free < 1e-9) continue
    const others = total - square / free
    // Nothing is left without this point: the others lie exactly on the curve.
    const p =
      others <= 1e-12 * total ? 0 : tTwoSided(Math.sqrt((square * (df - 1)) / (free * others)), df - 1)
    if (p * n < FALSE_ALARM) found.push(i)
  }
  return found
}
