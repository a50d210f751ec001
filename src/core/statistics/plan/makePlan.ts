import { plainNumber, threeDigits } from '../../units/showForce.ts'
import { ENGINE_VERSION } from '../../version.ts'
import { levelAtLook } from '../compare/looks.ts'
import { list, percent, withUnit } from '../compare/words.ts'
import { adviceSoFar, type PulledValue } from './advice.ts'
import { powerAgainstControl, powerInBlocks, powerOfTrend } from './designs.ts'
import type { Plan } from './document.ts'
import { equivalencePower } from './equivalence.ts'
import { type Goal, type Goals, goalsOf, type Scatter } from './goals.ts'
import { blockedOrder } from './order.ts'
import { MOST_PER_GROUP, powerCurve, powerOf, smallest } from './power.ts'
import { type RigExpectation, rigChecks } from './rigChecks.ts'

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
