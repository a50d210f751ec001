import { tQuantile } from '../distributions/t.ts'
import type { ComparedPair } from '../document.ts'
import { meanInterval } from '../group/intervals.ts'
import { mean, standardDeviation } from '../group/moments.ts'
import { detectableOf, type PairTests } from './comparePair.ts'
import type { NumericFactor } from './factor.ts'
import { type QuantityWords, quantityWords } from './quantity.ts'
import type { Family } from './simultaneous.ts'
import { measuredOf, type Specimen, valuesOf } from './specimen.ts'
import { amount, list, percent, pText, type Scale, span, specimens, toldBound } from './words.ts'

interface JudgedGroup {
  readonly name: string
  readonly specimens: readonly Specimen[]
}

export interface JudgedPair {
  readonly a: JudgedGroup
  readonly b: JudgedGroup
  readonly tests: PairTests
  /** p of the decision, adjusted for all pairs; `null` where nothing can be told. */
  readonly pAdjusted: number | null
  /** The interval that goes with the decision. */
  readonly ci95: readonly [number, number] | null
  readonly difference: number | null
  /** Are the means within a margin of each other? `null` where nobody said what a difference is worth. */
  readonly equivalence: {
    readonly margin: number
    readonly ci90: readonly [number, number]
    readonly shown: boolean
  } | null
}

export interface Judged {
  readonly quantity: string
  readonly scale: Scale
  readonly groups: readonly JudgedGroup[]
  readonly pairs: readonly JudgedPair[]
  readonly family: Family
  /** What a difference is worth, as a share of the mean; `null` where nobody has said. */
  readonly worthShare: number | null
  /** Where the groups differ by a number: the trend over it. */
  readonly factor: NumericFactor | null
  /** Group that all pairs compare with; `null` where each is compared with each. */
  readonly against: string | null
  /** The one way of failing that is compared; `null` for whatever let go first. */
  readonly mode: string | null
  /** Groups and blocks share nothing that ties them: `day` and the like, else `null`. */
  readonly untied: string | null
  /** p of all groups at once, of Welch's analysis of variance or else of ranks. */
  readonly overallP: number | null
}

/** Chance of a false alarm over all pairs together. */
export const LEVEL = 0.05

export const isSeen = (pair: JudgedPair): boolean => pair.pAdjusted !== null && pair.pAdjusted < LEVEL

/** Different, as good as each other, or neither shown. */
export const verdictOfPair = (pair: JudgedPair): ComparedPair['verdict'] =>
  isSeen(pair) ? 'different' : pair.equivalence?.shown ? 'equivalent' : 'undecided'

/** One sentence in plain words: what was seen, what was not, and what could not have been seen. */
export function verdictOf(judged: Judged): string {
  const text = verdictWithout(judged)
  if (judged.mode === null) return text
  const isName = judged.groups.some(g => text.startsWith(`${g.name} `))
  return `Against failing by “${judged.mode}” alone: ${isName ? text : text.charAt(0).toLowerCase() + text.slice(1)}`
}

function verdictWithout(judged: Judged): string {
  const words = quantityWords(judged.quantity)
  if (judged.pairs.length === 0) return sentence([alone(judged, words)], judged.groups)
  if (judged.untied !== null) {
    return sentence(
      [
        `the groups share no ${judged.untied}, so a difference between ${list(judged.groups.map(g => g.name))} cannot be told from one between one ${judged.untied} and another; pull one variant on every ${judged.untied} to tie them`,
      ],
      judged.groups,
    )
  }
  const seen = judged.pairs.filter(isSeen)
  const told =
    seen.length > MOST_TOLD
      ? winnersClauses(seen, words)
      : seen.map(pair => seenClause(pair, judged.scale, words))
  return sentence(
    [
      ...told,
      ...smallNumbers(seen),
      ...alikeClauses(judged),
      ...unseenClauses(judged, words),
      ...factorClause(judged),
    ],
    judged.groups,
  )
}

/** Pairs that are told one by one; more are summed up. */
const MOST_TOLD = 3

/** Clauses as one sentence; it begins with a capital unless with the name of a group. */
function sentence(clauses: readonly string[], groups: readonly JudgedGroup[]): string {
  const text = `${clauses.join('; ')}.`
  return groups.some(g => text.startsWith(`${g.name} `)) ? text : text.charAt(0).toUpperCase() + text.slice(1)
}

/** Who holds more than whom, without the amounts. */
function winnersClauses(seen: readonly JudgedPair[], words: QuantityWords): string[] {
  const ordered = seen.map(winnerFirst)
  const winners = [...new Set(ordered.map(([more]) => more.name))]
  return winners.map(name => {
    const beaten = ordered.filter(([more]) => more.name === name).map(([, less]) => less.name)
    return `${name} ${words.more} than ${list(beaten)}`
  })
}

function winnerFirst(pair: JudgedPair): readonly [JudgedGroup, JudgedGroup] {
  const aWins =
    pair.tests.decision?.by === 'ranks'
      ? (pair.tests.superiority?.chance ?? 0.5) > 0.5
      : (pair.difference ?? 0) > 0
  return aWins ? [pair.a, pair.b] : [pair.b, pair.a]
}

function seenClause(pair: JudgedPair, scale: Scale, words: QuantityWords): string {
  const { tests } = pair
  const [more, less] = winnerFirst(pair)
  if (tests.decision?.by === 'ranks') {
    const chance = tests.superiority?.chance ?? 0.5
    return `${more.name} ${words.more} than ${less.name}: a random ${more.name} beats a random ${less.name} ${inHundred(Math.max(chance, 1 - chance))}; how much more cannot be given, because some only reached a bound`
  }
  const difference = pair.difference!
  const [low, high] = difference > 0 ? pair.ci95! : ([-pair.ci95![1], -pair.ci95![0]] as const)
  const base = mean(valuesOf(measuredOf(less.specimens)))
  // Where some only reached their value, the mean of the rest is no base for a share.
  const share =
    base > 0 && tests.decision?.by !== 'censored'
      ? `, ${percent(Math.abs(difference) / base)} of ${less.name}'s mean`
      : ''
  const little = pair.equivalence?.shown
    ? `, which is less than the ${amount(pair.equivalence.margin, scale)} said to matter`
    : ''
  return `${more.name} ${words.more} than ${less.name}: by ${amount(Math.abs(difference), scale, (high - low) / 2)} on average (95 % interval ${span([low, high], scale)})${share}${little}`
}

const inHundred = (chance: number): string =>
  chance > 0.995 ? 'nearly always' : `${Math.round(chance * 100)} times in 100`

/** The trend, as one question of its own. */
function factorClause({ factor, scale }: Judged): string[] {
  if (factor === null) return []
  const { slope, ci95, p, unit, bend } = factor
  const bends =
    bend !== null && bend.p < LEVEL
      ? [`it does not change evenly over the number in the names but bends (${pText(bend.p)})`]
      : []
  const each = unit === '' ? 'one more' : `each ${unit}`
  const half = (ci95[1] - ci95[0]) / 2
  return p < LEVEL
    ? [
        ...bends,
        `over the number in the names it changes by ${amount(slope, scale, half)} for ${each}${bends.length > 0 ? ' on average' : ''} (95 % interval ${span(ci95, scale)})`,
      ]
    : [
        ...bends,
        `a trend over the number in the names is not shown (95 % interval ${span(ci95, scale)} for ${each})`,
      ]
}

/** Pairs that were shown to lie within what is worth a difference. */
function alikeClauses({ pairs, scale, worthShare }: Judged): string[] {
  const alike = pairs.filter(p => verdictOfPair(p) === 'equivalent')
  if (worthShare === null || alike.length === 0) return []
  if (alike.length > MOST_TOLD)
    return [
      `in ${alike.length} pairs one is as good as the other, to within ${percent(worthShare)} of the mean`,
    ]
  return alike.map(
    ({ a, b, equivalence }) =>
      `${a.name} is as good as ${b.name}: their means differ by less than ${percent(worthShare)}, ${amount(equivalence!.margin, scale)} (90 % interval of the difference ${span(equivalence!.ci90, scale)})`,
  )
}

function smallNumbers(seen: readonly JudgedPair[]): string[] {
  const two = seen.some(p => Math.min(p.tests.nA, p.tests.nB) === 2 && p.tests.decision?.by === 'welch')
  return two ? ['two specimens barely show the scatter, so pull more before building on it'] : []
}

function unseenClauses(judged: Judged, words: QuantityWords): string[] {
  const open = judged.pairs.filter(p => verdictOfPair(p) === 'undecided')
  const single = open.filter(p => p.tests.decision === null && Math.min(p.tests.nA, p.tests.nB) === 1)
  const empty = judged.groups.filter(g => measuredOf(g.specimens).length === 0)
  const flat = open.filter(p => p.tests.decision === null && Math.min(p.tests.nA, p.tests.nB) > 1)
  const tested = open.filter(p => p.tests.decision !== null)
  // All groups together can differ beyond chance while no single pair does.
  const onlyTogether =
    judged.groups.length > 2 &&
    tested.length > 0 &&
    !judged.pairs.some(isSeen) &&
    judged.overallP !== null &&
    judged.overallP < judged.family.level
  return [
    ...(onlyTogether
      ? [`the groups are not all alike (${pText(judged.overallP!)}), but which of them differ cannot be told`]
      : []),
    ...empty.map(g =>
      g.specimens.some(s => s.otherScale)
        ? `of ${g.name} no force is known yet, as its rig is not named: nothing can be said of it`
        : `of ${g.name} nothing was measured, so nothing can be said of it`,
    ),
    ...flat.map(p => flatClause(p, judged.scale)),
    ...(tested.length > 0 ? [testedClause(tested, judged)] : []),
    ...single.slice(0, MOST_TOLD).map(p => singleClause(p, judged.scale, words)),
  ]
}

/** All values of both groups alike within the group: no scatter to measure a difference by. */
function flatClause({ a, b, difference }: JudgedPair, scale: Scale): string {
  return difference === 0
    ? `all values of ${a.name} and ${b.name} are alike: the display is too coarse to part them, or a value was copied`
    : `the values of ${a.name} and of ${b.name} do not scatter at all, so the difference of ${amount(Math.abs(difference ?? 0), scale)} cannot be judged: the display may be too coarse`
}

function testedClause(open: readonly JudgedPair[], judged: Judged): string {
  return `not decided ${between(open, judged)}: ${couldHaveSeen(open, judged)}`
}

/** The pairs in words: all of them by the groups' names, a few one by one, many as a number. */
export function between(open: readonly JudgedPair[], judged: Judged): string {
  const names = judged.groups.map(g => g.name)
  if (judged.against !== null && open.length === judged.pairs.length)
    return `between ${judged.against} and ${list(names.filter(n => n !== judged.against))}`
  if (open.length === judged.pairs.length) return `${names.length > 2 ? 'among' : 'between'} ${list(names)}`
  if (open.length > MOST_TOLD) return `in the other ${open.length} pairs`
  return `between ${open.map(p => `${p.a.name} and ${p.b.name}`).join(', or ')}`
}

/** What the numbers and the scatter could have shown: the weakest of the pairs speaks for all. */
export function couldHaveSeen(open: readonly JudgedPair[], judged: Judged): string {
  const byRanks = open.find(p => p.tests.decision?.by === 'ranks' && p.tests.mannWhitney!.smallestP >= LEVEL)
  if (byRanks) return `by their order alone ${counts(byRanks)} can never show one: pull at least 4 of each`
  const found = open.flatMap(pair => {
    const least = detectableOf(pair.tests, judged.family)
    return least === null ? [] : [{ pair, least, middle: middleOf(pair) }]
  })
  const weakest = found.toSorted((x, y) => y.least - x.least)[0]
  if (!weakest) return 'the scatter is not known well enough to say what could have been seen'
  const share = weakest.middle > 0 ? weakest.least / weakest.middle : null
  // Two means lie apart by all of their middle where one is three times the other: past that a share says little.
  if (share !== null && share >= 1)
    return `with ${counts(weakest.pair)} and this scatter even a mean three times the other could easily have been missed, so this says next to nothing`
  const size = share === null ? amount(weakest.least, judged.scale) : percent(share)
  return `with ${counts(weakest.pair)} and this scatter only a difference over ${size} would have been seen 8 times in 10`
}

const counts = ({ tests }: JudgedPair): string =>
  tests.nA === tests.nB
    ? `${tests.nA} each`
    : `${Math.min(tests.nA, tests.nB)} against ${Math.max(tests.nA, tests.nB)}`

/** Mean of the two groups' means: what a difference is a share of. */
export const middleOf = ({ a, b }: JudgedPair): number =>
  (mean(valuesOf(measuredOf(a.specimens))) + mean(valuesOf(measuredOf(b.specimens)))) / 2

/** One specimen in one group or in both: what little can be said. */
function singleClause({ a, b, difference }: JudgedPair, scale: Scale, words: QuantityWords): string {
  const [x, y] = [valuesOf(measuredOf(a.specimens)), valuesOf(measuredOf(b.specimens))]
  if (x.length === 1 && y.length === 1) {
    return `one ${a.name} and one ${b.name} differ by ${amount(Math.abs(difference ?? 0), scale)}, but one specimen of a kind says nothing of how much its kind scatters: pull at least 3 of each before saying that one ${words.more}`
  }
  const [lone, others, name, kind] = x.length === 1 ? [x[0]!, y, a.name, b.name] : [y[0]!, x, b.name, a.name]
  const [least, high] = nextRange(others)
  const low = toldBound(least, Math.min(...others))!
  const inside = lone >= low && lone <= high
  return `the one ${name} lies ${inside ? 'inside' : 'outside'} the range in which 95 of 100 next ${kind} would lie (${span([low, high], scale)}), which is all that one specimen can show: pull at least 2 more`
}

/** 95 % prediction interval for one more value of the same kind: mean ± t s √(1 + 1/n). */
function nextRange(values: Float64Array): [number, number] {
  const half =
    tQuantile(0.975, values.length - 1) * standardDeviation(values) * Math.sqrt(1 + 1 / values.length)
  return [mean(values) - half, mean(values) + half]
}

/** A single group: its mean, and how well it is known. */
function alone({ groups, scale }: Judged, words: QuantityWords): string {
  const group = groups[0]
  const values = group ? valuesOf(measuredOf(group.specimens)) : new Float64Array()
  if (!group || values.length === 0) return 'nothing was measured, so nothing can be said'
  if (values.length === 1)
    return `one ${group.name} came to ${amount(values[0]!, scale)}; one specimen says nothing of how much the next would scatter: pull at least 2 more, and something to compare with`
  const interval = meanInterval(values)
  const middle = mean(values)
  if (!interval)
    return `all ${specimens(values.length)} of ${group.name} came to ${amount(middle, scale)}: the display is too coarse to show their scatter; there is no other group to compare with`
  const half = (interval[1] - interval[0]) / 2
  const told = [toldBound(interval[0], Math.min(...values))!, interval[1]] as const
  const barely = values.length === 2 ? ', and two barely show the scatter' : ''
  return `${group.name} ${words.hold} ${amount(middle, scale, half)} on average; with ${specimens(values.length)} that mean is only known to lie between ${span(told, scale).replaceAll(' to ', ' and ')}${barely}; there is no other group to compare with`
}
