import { expand } from '../doubt/expanded.ts'
import { normalInput, type Shape } from '../doubt/input.ts'
import { monteCarlo } from '../doubt/monteCarlo.ts'
import { type BudgetModel, budgetAt, expandBudget } from './budget.ts'
import { lackOfFit } from './chooseDegree.ts'
import type { Calibration, Uncertainty } from './document.ts'
import { type AppliedDoubt, type Point, stepsOf } from './points.ts'
import { type PolynomialFit, slopeAt } from './polynomial.ts'
import { readingAt } from './readingAt.ts'
import { scatterOf } from './scatter.ts'

const NORMAL_95 = 1.959_963_984_540_054

/** The residuals of a fit parted into what the rig always does and what scatters from reading to reading. */
export function modelOf(
  points: readonly Point[],
  doubts: readonly AppliedDoubt[],
  fit: PolynomialFit,
  zeroReading: number,
  resolution: number | null,
): BudgetModel {
  const scatter = scatterOf(points, fit.residuals)
  const total = (fit.residualSd ?? 0) ** 2
  const stepN = Math.abs((resolution ?? 0) * slopeAt(fit.coefficients, zeroReading))
  const repeated = scatter.repeatN === null ? null : Math.min(scatter.repeatN ** 2, total)
  const hysteresis = Math.min(scatter.hysteresisN ** 2, total - (repeated ?? 0))
  const lack = lackOfFit(points, stepsOf(points).length, fit)
  // A departure that the repeats explain is scatter, not a departure.
  const departure =
    repeated === null || lack === null || lack > 0.05 ? 0 : Math.max(0, total - repeated - hysteresis)
  return {
    fit,
    doubts,
    departureN: repeated === null ? null : Math.sqrt(departure),
    hysteresisN: Math.sqrt(hysteresis),
    // No reading is known better than its rounding (GUM F.2.2.1).
    readingN: Math.sqrt(Math.max(total - departure - hysteresis, stepN ** 2 / 12)),
    zeroReading,
  }
}

export function uncertaintyAt(model: BudgetModel, forceN: number): Uncertainty {
  const reading = readingAt(model.fit.coefficients, forceN, [model.zeroReading]) ?? model.zeroReading
  const parts = budgetAt(model, reading, null)
  const whole = expandBudget(parts)
  return {
    atN: forceN,
    expandedN: whole.expanded,
    standardN: whole.standard,
    df: finite(whole.df),
    k: whole.k,
    parts: parts.map(({ source, standardN, df, shared }) => ({ source, standardN, df: finite(df), shared })),
  }
}

/**
 * Standard uncertainty of a force counted from the record's own zero. It is the 95 % half-width over 1.96, so that few
 * degrees of freedom are not forgotten on the way. How runs repeat is in it; beyond the loads what departs grows on.
 */
export function scaleOf(
  model: BudgetModel,
  forcesN: readonly number[],
  topN: number,
): { atN: number; standardN: number }[] {
  return forcesN.flatMap(atN => {
    const reading = readingAt(model.fit.coefficients, atN, [model.zeroReading])
    if (reading === null) return []
    const beyond = Math.max(1, atN / topN)
    const parts = budgetAt(
      { ...model, departureN: (model.departureN ?? 0) * beyond, hysteresisN: model.hysteresisN * beyond },
      reading,
      model.zeroReading,
    )
    return [{ atN, standardN: parts.length > 0 ? expandBudget(parts).expanded / NORMAL_95 : 0 }]
  })
}

export function byDraws(
  model: BudgetModel,
  doubts: readonly AppliedDoubt[],
  topN: number,
  trials: number,
  seed: number,
): Calibration['monteCarlo'] {
  const reading = readingAt(model.fit.coefficients, topN, [model.zeroReading]) ?? model.zeroReading
  const parts = budgetAt(model, reading, null)
  const scatter = expand(parts.filter(p => p.scatter).map(p => ({ standard: p.standardN, df: Infinity })))
  const shapeOf = (source: string): Shape => doubts.find(d => d.source === source)?.shape ?? 'normal'
  const inputs = [
    normalInput({ name: 'scatter', value: 0, df: model.fit.df }, scatter.standard),
    ...parts
      .filter(p => !p.scatter)
      .map(p => ({ ...normalInput({ name: p.source, value: 0 }, p.standardN), shape: shapeOf(p.source) })),
  ]
  const drawn = monteCarlo(values => values.reduce((sum, v) => sum + v, 0), inputs, { trials, seed })
  return {
    atN: topN,
    trials,
    seed,
    expandedN: (drawn.high - drawn.low) / 2,
    byBudgetN: expandBudget(parts).expanded,
  }
}

const finite = (df: number): number | null => (Number.isFinite(df) ? df : null)
