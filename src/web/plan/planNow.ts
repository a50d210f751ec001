import type { Rig } from '../../core/calibration/rig.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import type { Plan } from '../../core/statistics/plan/document.ts'
import type { Goals, Scatter } from '../../core/statistics/plan/goals.ts'
import { makePlan } from '../../core/statistics/plan/makePlan.ts'
import { rigExpectation } from '../../core/statistics/plan/rigExpectation.ts'
import {
  type RecordedScatter,
  recordedScatter,
  recordedScatterText,
} from '../../core/statistics/plan/scatter.ts'
import { type ForceUnit, fromNewton, N_PER } from '../../core/units/force.ts'
import type { Asked } from './asked.ts'

/** A plan as it is kept: the document of `tenterhook plan --json`, and the dials that made it. */
export type KeptPlan = Plan & { readonly asked: Asked }

/** What earlier pulls of the study show, in the unit of its comparison. */
export interface Recorded extends RecordedScatter {
  readonly unit: string
}

export interface PlanSituation {
  readonly asked: Asked
  /** Names, in their order. */
  readonly variants: readonly string[]
  readonly recorded: Recorded | null
  readonly rig: Rig | null
  readonly studyName: string
  readonly unit: ForceUnit
}

/** The scatter of what the study has pulled so far; `null` where it shows none. */
export function recordedOf(comparison: Comparison | undefined): Recorded | null {
  if (!comparison) return null
  const found = recordedScatter(comparison.specimens)
  return found && { ...found, unit: comparison.unit }
}

/** Per cent of the mean; `null` where the mean is not above nought. */
export const scatterPctOf = ({ mean, sd }: RecordedScatter): number | null =>
  mean > 0 ? (100 * sd) / mean : null

/** Part of the peak that may be lost between two readings, in per cent: the usual of `tenterhook plan`. */
const ACCURACY_PCT = 1

/** The plan as the dials stand. Of the same figures it is, to the last digit, that of `tenterhook plan --json`. */
export function planNow({ asked, variants, recorded, rig, studyName, unit }: PlanSituation): Plan {
  const from = scatterFrom(asked, recorded, studyName, unit)
  const mean = from.scatter.mean
  return makePlan({
    variants,
    scatter: from.scatter,
    goals: goalsOf(asked, (pct: number) => (pct / 100) * (mean ?? 100), from.scatter.sd),
    power: asked.power,
    unit: from.unit,
    seed: asked.seed,
    perGroup: asked.each,
    stages: asked.stages,
    rig: isRigTold(asked, rig)
      ? rigExpectation(
          {
            expectedPeakN: expectedPeakN(asked, recorded),
            extensionMm: asked.extensionMm,
            timeToBreakS: asked.timeToBreakS,
            accuracyPct: ACCURACY_PCT,
          },
          rig,
        )
      : null,
    soFar: null,
  })
}

/** `amountOf` turns per cent of the mean into the unit of the plan. */
function goalsOf(
  { goal, proofPct, differencePct, perBlock, reactsPct }: Asked,
  amountOf: (pct: number) => number,
  sd: number,
): Goals {
  const amount = amountOf(differencePct)
  const isDifference = goal === 'difference' || goal === 'control'
  return {
    difference: isDifference ? amount : null,
    againstControl: goal === 'control',
    blocks:
      isDifference && perBlock !== null
        ? { perBlock, reacts: reactsPct === null ? sd / 2 : amountOf(reactsPct) }
        : null,
    trend: goal === 'trend' ? amount : null,
    within: goal === 'equivalence' ? amount : null,
    proof: goal === 'proof' ? { share: proofPct / 100, letGo: 0 } : null,
    halfWidth: null,
    boundWithin: null,
    boundAbove: null,
  }
}

/** As told, else the mean of the peaks so far. */
export const expectedPeakN = (asked: Asked, recorded: Recorded | null): number | null =>
  asked.expectedPeakN ?? (asked.quantity === 'peakForce' && recorded?.unit === 'N' ? recorded.mean : null)

const isRigTold = ({ expectedPeakN, extensionMm, timeToBreakS }: Asked, rig: Rig | null): boolean =>
  rig !== null || [expectedPeakN, extensionMm, timeToBreakS].some(figure => figure !== null)

function scatterFrom(
  { scatterPct, quantity, expectedPeakN }: Asked,
  recorded: Recorded | null,
  studyName: string,
  forceUnit: ForceUnit,
): { scatter: Scatter; unit: string } {
  if (scatterPct === null && recorded !== null) {
    const isForce = recorded.unit === 'N'
    const per = isForce ? N_PER[forceUnit] : 1
    const text = `of ${recordedScatterText(recorded)} of “${studyName}”`
    return {
      scatter: { mean: recorded.mean / per, sd: recorded.sd / per, from: 'records', text },
      unit: isForce ? forceUnit : recorded.unit,
    }
  }
  const pct = scatterPct ?? 10
  const mean =
    quantity === 'peakForce' && expectedPeakN !== null ? fromNewton(expectedPeakN, forceUnit) : null
  return {
    scatter: { mean, sd: mean === null ? pct : (pct / 100) * mean, from: 'guess', text: 'as guessed' },
    unit: mean === null ? '%' : forceUnit,
  }
}
