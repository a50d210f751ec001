import { fromNewton, type LogForceUnit } from '../units/force.ts'
import type { BudgetModel } from './budget.ts'
import type { Warning } from './document.ts'
import type { Point } from './points.ts'
import { type PolynomialFit, slopeAt } from './polynomial.ts'

export function suspectWarnings(points: readonly Point[], suspects: ReadonlySet<number>): Warning[] {
  return [...suspects].map(i => {
    const { line, appliedN } = points[i]!
    const place = line > 0 ? `line ${line}` : `point ${i + 1}`
    return {
      code: 'point-suspect',
      text: `The point in ${place} (${Number(appliedN.toPrecision(4))} N) lies far off the others. It was kept: leave it out of the fit if something was wrong with it.`,
    }
  })
}

export function fitWarnings(points: readonly Point[], fit: PolynomialFit, unit: LogForceUnit): Warning[] {
  const warnings: Warning[] = []
  const slope = slopeAt(fit.coefficients, points[0]!.reading)
  if (slope < 0)
    warnings.push({
      code: 'reading-falls',
      text: 'The readings fall as the load grows; the fit turns them round.',
    })
  const factor = unit === 'counts' ? null : fromNewton(slope, unit)
  if (factor !== null && Math.abs(Math.abs(factor) - 1) > 0.2)
    warnings.push({
      code: 'scale-far-off',
      text: `The rig shows ${Number((1 / factor).toPrecision(3))} ${unit} for each ${unit} applied. Check the units of both columns.`,
    })
  if (fit.residualSd === 0)
    warnings.push({
      code: 'no-scatter',
      text: 'The points lie exactly on the fit, so nothing tells how well it repeats; only the rounding counts.',
    })
  if (fit.df < 3)
    warnings.push({
      code: 'few-points',
      text: `Only ${fit.df} ${fit.df === 1 ? 'point is' : 'points are'} left over to judge the scatter by: the doubt is wide for that.`,
    })
  return warnings
}

/** Worth a word where the way down parts from the way up by more than the readings scatter. */
export function hysteresisWarnings({ hysteresisN, readingN }: BudgetModel): Warning[] {
  if (!(hysteresisN > readingN)) return []
  return [
    {
      code: 'hysteresis',
      text: `Falling, the rig reads otherwise than rising, by ${Number((2 * hysteresisN).toPrecision(2))} N on the whole, and the fit lies between. A pull rises: a fit of the way up alone suits it better.`,
    },
  ]
}
