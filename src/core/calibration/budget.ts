import { expandShaped, type ShapedPart } from '../doubt/combined.ts'
import type { Expanded } from '../doubt/expanded.ts'
import type { Shape, SharedBy } from '../doubt/input.ts'
import type { AppliedDoubt } from './points.ts'
import type { PolynomialFit } from './polynomial.ts'

/** A line of the budget. `with` joins lines that stand on one estimate of scatter, so that its degrees of freedom count once. */
export interface BudgetPart {
  readonly source: string
  readonly standardN: number
  readonly df: number
  readonly shared: SharedBy
  readonly scatter: boolean
  readonly shape: Shape
}

export interface BudgetModel {
  readonly fit: PolynomialFit
  readonly doubts: readonly AppliedDoubt[]
  /** Departure of the steps from the curve, beyond what repeats explain; `null` where nothing was repeated. */
  readonly departureN: number | null
  readonly hysteresisN: number
  /** Scatter of one reading about the curve, without the two above. */
  readonly readingN: number
  readonly zeroReading: number
}

/** Budget of a force at a reading. From an `origin` (a reading of no load) it is that of the difference. */
export function budgetAt(model: BudgetModel, reading: number, origin: number | null): BudgetPart[] {
  const { fit, doubts } = model
  const part = (
    source: string,
    standardN: number,
    shared: SharedBy,
    scatter: boolean,
    shape: Shape = 'normal',
  ): BudgetPart => ({
    source,
    standardN,
    df: scatter ? fit.df : Infinity,
    shared,
    scatter,
    shape,
  })
  return [
    part('fit', fit.standardAt(reading, origin), 'rig', true),
    ...doubts.map(doubt =>
      part(doubt.source, Math.abs(fit.moveOf(doubt.movesN)(reading, origin)), 'rig', false, doubt.shape),
    ),
    ...(model.departureN === null ? [] : [part('departure from the fit', model.departureN, 'rig', true)]),
    part('hysteresis', model.hysteresisN, 'rig', true),
    part('scatter of a reading', model.readingN, 'none', true),
  ].filter(({ standardN }) => standardN > 0)
}

/** The parts combined at 95 % by the distribution of their sum, those of the scatter as one estimate. */
export function expandBudget(parts: readonly BudgetPart[]): Expanded {
  const scatter = parts.filter(p => p.scatter)
  const joined: ShapedPart[] = parts
    .filter(p => !p.scatter)
    .map(p => ({ standard: p.standardN, df: p.df, shape: p.shape }))
  if (scatter.length > 0)
    joined.push({
      standard: Math.hypot(...scatter.map(p => p.standardN)),
      df: scatter[0]!.df,
      shape: 'normal',
    })
  return expandShaped(joined)
}
