import { plainNumber, threeDigits } from '../../units/showForce.ts'
import { ENGINE_VERSION } from '../../version.ts'
import { levelAtLook } from '../compare/looks.ts'
import { list, percent, withUnit } from '../compare/words.ts'
import { leastForOrderBound } from '../group/lowerBound.ts'
import { specimensForProof } from '../group/proof.ts'
import { adviceSoFar, type PulledValue } from './advice.ts'
import {
  type Designed,
  designAgainstControl,
  designInBlocks,
  designOfTrend,
  powerAgainstControl,
  powerInBlocks,
  powerOfTrend,
} from './designs.ts'
import type { Plan } from './document.ts'
import { designOfEquivalence, equivalencePower } from './equivalence.ts'
import { blockedOrder } from './order.ts'
import { MOST_PER_GROUP, perGroupForDifference, powerCurve, powerOf, smallest } from './power.ts'
import { specimensForBoundAbove, specimensForBoundWithin, specimensForHalfWidth } from './precision.ts'
import { type RigExpectation, rigChecks } from './rigChecks.ts'

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

export interface PlanOptions {
  readonly variants: readonly string[]
  readonly scatter: Scatter
  readonly goals: Goals
  /** Chance of reaching a goal if things are as assumed. */
  readonly power: number
  readonly unit: string
  readonly seed: number
  /** Number of each, where the user sets it; else the most that a goal asks for. */
  readonly perGroup: number | null
  readonly rig: RigExpectation | null
  /** How many times it is to be compared, with more pulled in between; once unless given. */
  readonly stages?: number
  /** Values pulled so far, in order. */
  readonly soFar: readonly PulledValue[] | null
}

type Goal = Plan['goals'][number]

const CORRECTION =
  'The limit at each look follows the spending function of Lan and DeMets (Biometrika 70 (1983) 659) in the form that follows O’Brien and Fleming, shared over the pairs; looking after every pull then raises no false alarm.'

/** Specimens of each variant that the goals ask for, the order in which to pull them, and what the rig makes of it. */
export function makePlan(options: PlanOptions): Plan {
  const { variants, scatter, goals, power, unit, seed, soFar } = options
  // Every pair of variants is a question of its own: the chance of a false alarm is shared between them.
  const pairs = Math.max(1, (variants.length * (variants.length - 1)) / 2)
  const stages = options.stages ?? 1
  const alpha = firstLevel(stages) / pairs
  const asked = goalsOf(options, alpha)
  const needed = asked.flatMap(g => g.perGroup ?? [])
  const perGroup = options.perGroup ?? (needed.length > 0 ? Math.max(...needed) : MOST_PER_GROUP)
  // A plan of a hundred thousand pulls is none: the order is left out and the warning says so.
  const within = perGroup * variants.length <= MOST_ORDERED
  const { order, blocks } = within
    ? blockedOrder(variants, perGroup, seed, goals.blocks?.perBlock)
    : { order: [], blocks: [] }
  return {
    document: 'tenterhook.plan',
    version: 1,
    engine: ENGINE_VERSION,
    perGroup,
    because: because(options, asked, perGroup, alpha),
    variants: [...variants],
    goals: asked,
    scatter: {
      mean: scatter.mean,
      sd: scatter.sd,
      cv: scatter.mean !== null && scatter.mean > 0 ? scatter.sd / scatter.mean : null,
      from: scatter.from,
      text: scatter.text,
    },
    unit,
    order: [...order],
    blocks: blocks.map(b => [...b]),
    seed,
    looks: stages === 1 ? null : looksOf(options, stages, pairs),
    powerCurve: curveOf(options, alpha, curveEnd(perGroup)),
    rig: options.rig === null ? [] : rigChecks(options.rig),
    advice: soFar === null ? null : adviceSoFar(soFar, { perGroup }),
    correction: soFar === null ? null : `${CORRECTION} ${percent(power)} power was planned for.`,
    warnings: warningsOf(options, asked, within),
  }
}

/** The chance of a false alarm at the first of so many looks. */
const firstLevel = (stages: number): number => levelAtLook(0.05, { earlier: [], stages }, 1, 1)

/** What being allowed to pull more and compare again costs, said before. */
function looksOf(options: PlanOptions, stages: number, pairs: number): Plan['looks'] {
  const { difference } = options.goals
  const times = stages === 2 ? 'twice' : `up to ${stages} times`
  const kept = `Compared ${times}, with more pulled in between, the first time is judged at ${percent(firstLevel(stages))} and not at 5 %, so that all looks together raise no more false alarms than one`
  if (difference === null) return { stages, text: `${kept}.` }
  const [once, now] = [1, stages].map(s => {
    const powerWith = powerByNumber(options, difference, firstLevel(s) / pairs)
    return smallest(n => (powerWith(n) ?? 0) >= options.power)
  }) as [number | null, number | null]
  const cost =
    once === null || now === null
      ? ''
      : now === once
        ? `: that costs nothing in specimens here, ${once} of each do either way`
        : `: that costs ${now - once} more of each at the first, ${now} in place of ${once}`
  return { stages, text: `${kept}${cost}.` }
}

/** More pulls than this are no order for a bench. */
const MOST_ORDERED = 2_000

const curveEnd = (perGroup: number): number => Math.min(200, Math.max(12, Math.ceil(perGroup * 1.6)))

function goalsOf({ scatter, goals, power, unit, variants }: PlanOptions, alpha: number): Goal[] {
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

/** Power against the number of each: of the difference, else of the trend, else of being as good as each other. */
function curveOf(options: PlanOptions, alpha: number, upTo: number): Plan['powerCurve'] {
  const { goals, scatter, variants } = options
  const { trend = null, within = null } = goals
  const { sd } = scatter
  if (goals.difference !== null) return powerCurve(powerByNumber(options, goals.difference, alpha), upTo)
  const k = variants.length
  if (trend !== null && k > 2)
    return powerCurve(n => powerOfTrend(trend, n, { sd, alpha: 0.05, variants: k }), upTo)
  if (within === null || k < 2) return []
  return powerCurve(n => equivalencePower(within, n, { sd, pairs: (k * (k - 1)) / 2 }), upTo)
}

/** Chance of seeing the difference with so many of each, by the method that will judge it. */
function powerByNumber(
  { scatter: { sd }, goals, variants: { length: variants } }: PlanOptions,
  difference: number,
  alpha: number,
): (n: number) => number | null {
  const { blocks = null, againstControl = false } = goals
  const level = (alpha * variants * (variants - 1)) / 2
  if (blocks !== null && variants > 1)
    return n =>
      n < 2 * blocks.perBlock
        ? null
        : powerInBlocks(difference, Math.floor(n / blocks.perBlock), {
            sd,
            alpha: level,
            design: { variants, ...blocks, againstControl },
          })
  if (againstControl && variants > 2)
    return n =>
      n < 2 ? null : powerAgainstControl(difference, n, { sd, alpha: level, others: variants - 1 })
  return n => powerOf(difference, { nA: n, nB: n, sd, alpha })
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

function because(options: PlanOptions, asked: readonly Goal[], n: number, alpha: number): string {
  const { scatter, perGroup, goals, unit } = options
  const cv =
    scatter.mean !== null && scatter.mean > 0
      ? percent(scatter.sd / scatter.mean)
      : unit === '%'
        ? percent(scatter.sd / 100)
        : withUnit(threeDigits(scatter.sd), unit)
  const given = `With a scatter of ${cv}`
  if (perGroup !== null) {
    const power = goals.difference === null ? null : powerByNumber(options, goals.difference, alpha)(n)
    return power === null
      ? `${n} of each were asked for.`
      : `${given}, ${n} of each see a difference of ${withUnit(threeDigits(goals.difference!), unit)} ${plainNumber(power * 100, 0)} times in 100.`
  }
  const reachable = asked.filter(g => g.perGroup !== null)
  const first = reachable.find(g => g.perGroup === n)
  if (!first) return `${given}, no number of specimens within reason does what is asked.`
  const others = reachable.filter(g => g !== first).map(g => `${g.perGroup} ${g.text}`)
  return `${given}, pull ${n} of each ${first.text}${others.length > 0 ? `; ${list(others)} would do` : ''}.`
}

function warningsOf(
  { scatter, variants, soFar }: PlanOptions,
  asked: readonly Goal[],
  ordered: boolean,
): Plan['warnings'] {
  return [
    ...(scatter.from === 'guess'
      ? [
          {
            code: 'guessed-scatter',
            text: 'The scatter is a guess: after the first few of each, plan again with what they show.',
          },
        ]
      : []),
    ...asked
      .filter(g => g.perGroup === null)
      .map(g => ({ code: 'out-of-reach', text: `No number within reason is enough ${g.text}.` })),
    ...(ordered ? [] : [{ code: 'no-order', text: 'So many pulls have no order printed.' }]),
    ...(variants.length === 1 && asked.some(g => g.goal === 'difference')
      ? [{ code: 'one-variant', text: 'A difference needs a second variant: name at least two.' }]
      : []),
    ...(soFar?.some(p => !variants.includes(p.variant))
      ? [
          {
            code: 'unplanned-variant',
            text: `Among the pulls so far are variants that are not planned: ${list([...new Set(soFar.map(p => p.variant))].filter(v => !variants.includes(v)))}.`,
          },
        ]
      : []),
  ]
}
