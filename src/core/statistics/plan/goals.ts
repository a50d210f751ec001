import { plainNumber, threeDigits } from '../../units/showForce.ts'
import { percent, withUnit } from '../compare/words.ts'
import { leastForOrderBound } from '../group/lowerBound.ts'
import { specimensForProof } from '../group/proof.ts'
import { type Designed, designAgainstControl, designInBlocks, designOfTrend } from './designs.ts'
import type { Plan } from './document.ts'
import { designOfEquivalence } from './equivalence.ts'
import { perGroupForDifference } from './power.ts'
import { specimensForBoundAbove, specimensForBoundWithin, specimensForHalfWidth } from './precision.ts'

export type Goal = Plan['goals'][number]

/** How much specimens of one kind are expected to scatter, in the unit of the plan. */
export interface Scatter {
  readonly mean: number | null
  readonly sd: number
  readonly from: 'guess' | 'records'
  /** Where it comes from, in words. */
  readonly text: string
}

/** An amount in the unit of the plan. */
export interface Goals {
  readonly difference: number | null
  readonly halfWidth: number | null
  /** A bound that `share` of all specimens exceed, no more than so much below the true one. */
  readonly boundWithin: { readonly share: number; readonly within: number } | null
  /** A bound that `share` exceed should come out above this. */
  readonly boundAbove: { readonly share: number; readonly required: number } | null
  /** Variants of one mean are to be shown to lie within so much of each other. */
  readonly within?: number | null
  /** The difference is one from a control, which alone all others are compared with. */
  readonly againstControl?: boolean
  /** The difference is judged within days or batches, with so many of each in one, which the variants react to by so much. */
  readonly blocks?: { readonly perBlock: number; readonly reacts: number } | null
  /** Variants that differ by a number, evenly: the change from the first to the last that is to be seen as a trend. */
  readonly trend?: number | null
  /** Pulled to a given load only: so many must hold to show that `share` of all do, if `letGo` of them do not. */
  readonly proof?: { readonly share: number; readonly letGo: number } | null
}

/**
 * What each goal asks for, with its words. `alpha`: the chance of a false alarm of one pair; `power`: the chance of reaching a goal if
 * things are as assumed.
 */
export function goalsOf(
  {
    scatter,
    goals,
    power,
    unit,
    variants,
  }: {
    readonly scatter: Scatter
    readonly goals: Goals
    readonly power: number
    readonly unit: string
    readonly variants: readonly string[]
  },
  alpha: number,
): Goal[] {
  const { difference, halfWidth, boundWithin, boundAbove, within = null, trend = null, proof = null } = goals
  const { mean, sd } = scatter
  const shown = (value: number): string => {
    const share = mean !== null && mean > 0 ? ` (${percent(value / mean)})` : ''
    return withUnit(threeDigits(value), unit) + share
  }
  const chance = `${plainNumber(power * 10, power * 10 === Math.round(power * 10) ? 0 : 1)} times in 10`
  const many = variants.length > 2 ? ` between any two of ${variants.length} variants` : ''
  const all: (Goal | null)[] = [
    difference === null
      ? null
      : differenceGoal(difference, {
          sd,
          alpha,
          power,
          goals,
          variants: variants.length,
          shown,
          many,
          chance,
        }),
    trend === null
      ? null
      : goalOf('trend', trend, designOfTrend(trend, { sd, alpha: 0.05, power, variants: variants.length }), {
          text: `to see a change of ${shown(trend)} from the first to the last of ${variants.length} variants as a trend ${chance}`,
          shown,
        }),
    halfWidth === null
      ? null
      : {
          goal: 'half-width',
          wanted: halfWidth,
          perGroup: specimensForHalfWidth(halfWidth, { sd, assurance: power }),
          text: `to know each mean to ± ${shown(halfWidth)} ${chance}`,
        },
    boundWithin === null
      ? null
      : {
          goal: 'bound',
          wanted: boundWithin.within,
          perGroup: specimensForBoundWithin(boundWithin.within, { share: boundWithin.share, sd }),
          text: `for a bound that ${percent(boundWithin.share)} exceed, on average no more than ${shown(boundWithin.within)} too low (without assuming a shape: ${leastForOrderBound(boundWithin.share)})`,
        },
    boundAbove === null || mean === null
      ? null
      : {
          goal: 'bound-above',
          wanted: boundAbove.required,
          perGroup: specimensForBoundAbove(boundAbove.required, { share: boundAbove.share, sd, mean, power }),
          text: `for a bound that ${percent(boundAbove.share)} exceed to come out above ${withUnit(threeDigits(boundAbove.required), unit)} ${chance}`,
        },
    within === null
      ? null
      : goalOf(
          'equivalence',
          within,
          designOfEquivalence(within, {
            sd,
            power,
            pairs: Math.max(1, (variants.length * (variants.length - 1)) / 2),
          }),
          {
            text: `to show that variants that do not differ are as good as each other to within ${shown(within)}${many} ${chance}`,
            shown,
          },
        ),
    proof === null ? null : proofGoal(proof),
  ]
  return all.flatMap(goal => (goal === null ? [] : [goal]))
}

type Shown = (value: number) => string

const goalOf = (
  goal: Goal['goal'],
  wanted: number,
  design: Designed | null,
  { text, shown }: { text: string; shown: Shown },
): Goal => ({
  goal,
  wanted,
  perGroup: design?.perGroup ?? null,
  text: design === null ? text : `${text}, then known to ± ${shown(design.halfWidth)}`,
})

/** A difference between any two, from a control, or within blocks. */
function differenceGoal(
  difference: number,
  {
    sd,
    alpha,
    power,
    goals,
    variants,
    shown,
    many,
    chance,
  }: {
    sd: number
    alpha: number
    power: number
    goals: Goals
    variants: number
    shown: Shown
    many: string
    chance: string
  },
): Goal {
  const { blocks = null, againstControl = false } = goals
  const pairs = (variants * (variants - 1)) / 2
  if (blocks !== null) {
    const design = designInBlocks(difference, {
      sd,
      alpha: alpha * pairs,
      power,
      design: { variants, ...blocks, againstControl },
    })
    const from = againstControl && variants > 2 ? ' from the control' : many
    const each = design === null ? '' : ` in ${design.blocks} blocks of ${blocks.perBlock} each`
    return goalOf('difference', difference, design, {
      text: `to see a difference of ${shown(difference)}${from} ${chance}${each}`,
      shown,
    })
  }
  if (againstControl && variants > 2)
    return goalOf(
      'difference',
      difference,
      designAgainstControl(difference, { sd, alpha: alpha * pairs, power, others: variants - 1 }),
      { text: `to see a difference of ${shown(difference)} from the control ${chance}`, shown },
    )
  return {
    goal: 'difference',
    wanted: difference,
    perGroup: perGroupForDifference(difference, { sd, alpha, power }),
    text: `to see a difference of ${shown(difference)}${many} ${chance}`,
  }
}

function proofGoal({ share, letGo }: NonNullable<Goals['proof']>): Goal {
  const held = letGo === 0 ? 'all of which must hold' : `of which no more than ${letGo} may let go`
  return {
    goal: 'proof',
    wanted: share,
    perGroup: specimensForProof(share, letGo),
    text: `to show with 95 % confidence that ${percent(share)} hold a given load, ${held}`,
  }
}
