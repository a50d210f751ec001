import { fUpperTail } from '../statistics/distributions/f.ts'
import { tTwoSided } from '../statistics/distributions/t.ts'
import { type Point, stepsOf } from './points.ts'
import { fitPolynomial, type PolynomialFit, polynomialAt, slopeAt } from './polynomial.ts'
import { scatterOf } from './scatter.ts'

/** Beyond noise: less likely than this by chance. */
const BY_CHANCE = 0.01

/** Fewest different forces that can tell a curve from a line. */
const LEAST_STEPS = 4

export interface ChosenDegree {
  readonly degree: 1 | 2
  readonly why: string
}

/**
 * A line, unless the points ask for a curve. A second degree is taken where all of these hold: at least four different
 * forces; the quadratic term is beyond noise (t test, 1 %); where steps were repeated, the line also misses the steps' own
 * means by more than the repeats explain (lack of fit, F test, 1 %); the curve matters, by more than half a step of
 * the display; and it stays on one side up, never turning back within the range.
 */
export function chooseDegree(
  points: readonly Point[],
  { throughZero = false, weights, stepN = 0 }: ChooseOptions = {},
): ChosenDegree {
  const steps = stepsOf(points)
  const x = points.map(p => p.reading)
  const y = points.map(p => p.appliedN)
  const common = weights ? { throughZero, weights } : { throughZero }
  const line = fitPolynomial(x, y, { degree: 1, ...common })
  const curve = fitPolynomial(x, y, { degree: 2, ...common })
  if (steps.length < LEAST_STEPS)
    return { degree: 1, why: `line: ${steps.length} different forces cannot show a curve` }
  if (line === null || curve === null || curve.residualSd === null)
    return { degree: 1, why: 'line: too few points to show a curve' }
  const size = Math.abs(curve.coefficients[2]!)
  const p = curve.standardErrors[2]! > 0 ? tTwoSided(size / curve.standardErrors[2]!, curve.df) : 0
  if (
    curve.residualSd < 1e-12 * Math.max(...y.map(Math.abs)) &&
    (line.residualSd ?? 0) <= 1e3 * curve.residualSd
  )
    return { degree: 1, why: 'line: the points lie on it exactly' }
  if (p > BY_CHANCE) return { degree: 1, why: `line: its bend is within noise (p = ${chance(p)})` }
  const lack = lackOfFit(points, steps.length, line)
  if (lack !== null && lack > BY_CHANCE)
    return {
      degree: 1,
      why: `line: it misses the steps by no more than their repeats scatter (p = ${chance(lack)})`,
    }
  const bend = Math.max(
    ...x.map(r => Math.abs(polynomialAt(curve.coefficients, r) - polynomialAt(line.coefficients, r))),
  )
  if (bend < stepN / 2) return { degree: 1, why: 'line: its bend is smaller than half a step of the display' }
  if (slopeAt(curve.coefficients, Math.min(...x)) * slopeAt(curve.coefficients, Math.max(...x)) <= 0)
    return { degree: 1, why: 'line: a second degree would turn back within the range' }
  return {
    degree: 2,
    why: `second degree: the line misses the points by up to ${Number(bend.toPrecision(2))} N, beyond noise (p = ${chance(lack ?? p)})`,
  }
}

export interface ChooseOptions {
  readonly throughZero?: boolean
  readonly weights?: ArrayLike<number>
  /** Step of the display in newton. */
  readonly stepN?: number
}

/**
 * Chance of a lack of fit as great as this by noise alone: mean square of the steps' means about the fit over that of the
 * readings about their steps' means (Draper and Smith 1998, Applied Regression Analysis, 2.2); `null` without repeats.
 */
export function lackOfFit(points: readonly Point[], steps: number, fit: PolynomialFit): number | null {
  const { repeatDf, repeatSumN2, repeatN } = scatterOf(points, fit.residuals)
  const total = fit.residuals.reduce((sum, r) => sum + r * r, 0)
  const df = points.length - repeatDf - (points.length - fit.df)
  if (repeatDf === 0 || repeatN === null || df <= 0 || steps < 3) return null
  if (repeatSumN2 === 0) return total > 0 ? 0 : 1
  const f = Math.max(0, total - repeatSumN2) / df / (repeatSumN2 / repeatDf)
  return fUpperTail(f, df, repeatDf)
}

const chance = (p: number): string => (p < 0.0001 ? 'less than 0.0001' : p.toPrecision(2))
