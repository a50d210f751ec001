import { QUANTITIES, type Quantity } from '../../core/statistics/compare/quantity.ts'
import { MOST_STAGES } from '../../core/statistics/compare/rememberedLooks.ts'
import { HAZARDS, type Hazard } from '../../publish/careNotes.ts'

/** A difference of any two, or from the control; variants by a number; as good as each other; holding a given load. */
export const PLAN_GOALS = ['difference', 'control', 'trend', 'equivalence', 'proof'] as const
export type PlanGoal = (typeof PLAN_GOALS)[number]

/** What a person asks of a plan, as the dials stand. Kept with the plan document under `asked`. */
export interface Asked {
  /** What counts as the result. */
  readonly quantity: Quantity
  /** Standard deviation within a variant in per cent of the mean; `null`: as the study's own records have it. */
  readonly scatterPct: number | null
  /** The difference that is to be told, in per cent of the mean. */
  readonly differencePct: number
  /** What the pulls are to show, of which `differencePct` is the size. */
  readonly goal: PlanGoal
  /** Of a proof: the share that is to hold a given load, in per cent. */
  readonly proofPct: number
  /** Within days or batches: specimens of each in one; `null`: all together. */
  readonly perBlock: number | null
  /** How much a variant reacts in its own way to a day or batch, in per cent of the mean; `null`: half the scatter. */
  readonly reactsPct: number | null
  /** Chance of telling it. */
  readonly power: number
  /** How many times it is to be compared, with more pulled in between. */
  readonly stages: number
  /** Number of each, where the person settled it. */
  readonly each: number | null
  readonly expectedPeakN: number | null
  /** Of a specimen, up to its break. */
  readonly extensionMm: number | null
  readonly timeToBreakS: number | null
  /** For the order of the pulls. */
  readonly seed: number
  /** What the specimens may do beside breaking; `null`: as the words of the study suggest. */
  readonly hazards: readonly Hazard[] | null
}

export const usualAsked = (seed: number): Asked => ({
  quantity: 'peakForce',
  scatterPct: 10,
  differencePct: 10,
  goal: 'difference',
  proofPct: 90,
  perBlock: null,
  reactsPct: null,
  power: 0.8,
  stages: 1,
  each: null,
  expectedPeakN: null,
  extensionMm: null,
  timeToBreakS: null,
  seed,
  hazards: null,
})

/** What was asked of a kept plan, as far as it makes sense; `null` where nothing was kept. */
export function askedOf(plan: unknown): Asked | null {
  const asked = fieldsOf(fieldsOf(plan)?.asked)
  if (!asked) return null
  const seed = asked.seed
  const usual = usualAsked(typeof seed === 'number' && Number.isSafeInteger(seed) && seed >= 0 ? seed : 1)
  const above0 = (value: unknown): number | null =>
    typeof value === 'number' && Number.isFinite(value) && value > 0 ? value : null
  const power = above0(asked.power)
  const each = above0(asked.each)
  const stages = above0(asked.stages)
  const proofPct = above0(asked.proofPct)
  const perBlock = above0(asked.perBlock)
  return {
    quantity:
      typeof asked.quantity === 'string' && Object.hasOwn(QUANTITIES, asked.quantity)
        ? (asked.quantity as Quantity)
        : usual.quantity,
    scatterPct: asked.scatterPct === null ? null : (above0(asked.scatterPct) ?? usual.scatterPct),
    differencePct: above0(asked.differencePct) ?? usual.differencePct,
    goal: PLAN_GOALS.find(goal => goal === asked.goal) ?? usual.goal,
    proofPct: proofPct !== null && proofPct >= 50 && proofPct <= 99.9 ? proofPct : usual.proofPct,
    perBlock: perBlock !== null && Number.isInteger(perBlock) ? perBlock : null,
    reactsPct: above0(asked.reactsPct),
    power: power !== null && power > 0.05 && power < 1 ? power : usual.power,
    stages: stages !== null && Number.isInteger(stages) && stages <= MOST_STAGES ? stages : usual.stages,
    each: each !== null && Number.isInteger(each) ? each : null,
    expectedPeakN: above0(asked.expectedPeakN),
    extensionMm: above0(asked.extensionMm),
    timeToBreakS: above0(asked.timeToBreakS),
    seed: usual.seed,
    hazards: hazardsOf(asked.hazards),
  }
}

/** Labels of the kept plan in the order of pulling, a block a list, and how many of each; `null` where none is kept. */
export function keptOrder(
  plan: unknown,
): { readonly blocks: readonly (readonly string[])[]; readonly perGroup: number } | null {
  const { blocks, perGroup } = fieldsOf(plan) ?? {}
  const isLabels = (block: unknown): block is string[] =>
    Array.isArray(block) && block.every(label => typeof label === 'string')
  return Array.isArray(blocks) && blocks.every(isLabels) && typeof perGroup === 'number'
    ? { blocks, perGroup }
    : null
}

const fieldsOf = (value: unknown): Readonly<Record<string, unknown>> | null =>
  typeof value === 'object' && value !== null ? (value as Readonly<Record<string, unknown>>) : null

const hazardsOf = (kept: unknown): readonly Hazard[] | null =>
  Array.isArray(kept) ? HAZARDS.filter(name => (kept as readonly unknown[]).includes(name)) : null
