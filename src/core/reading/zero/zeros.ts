import type { Segment } from '../../recording.ts'
import { greatestAt, reachOf, sumOf } from '../../signal/scan.ts'
import type { Signal } from '../../signal/summary.ts'
import type { Amendments } from '../amendments.ts'
import type { Zero } from '../document.ts'
import { type ZeroPriors, zeroPriors } from '../priors.ts'
import { type Quiet, quietOver } from '../quiet.ts'
import type { Rezero } from '../rezero.ts'
import type { LowBlock } from './chainCosts.ts'
import { loadingPace, moves, passesThrough } from './restEvidence.ts'
import { type ZeroBelief, type ZeroChain, zeroChain } from './zeroChain.ts'

/** A stretch of samples with one setting of the zero: between the ends of a segment and the rezeros in it. */
export interface Epoch {
  /** First sample, and one past the last. */
  readonly from: number
  readonly to: number
  readonly rests: readonly Quiet[]
  readonly basis: Zero['basis']
  /** The zero line: straight between these, level outside. */
  readonly knots: readonly { readonly atS: number; readonly levelN: number }[]
  /** Standard uncertainty of the zero's level, without its moving between rests. */
  readonly standardN: number
  /** How far apart the rests lie, in N; 0 with fewer than two. */
  readonly movedN: number
  /** They lie apart by drift: the slope within each leads from one to the other. */
  readonly drifts: boolean
  /** Some of them lie apart by a step: the zero keeps the level before until the force falls. */
  readonly steps: boolean
  /** Load on the specimen when the indicator was zeroed, in N; 0 where it was not zeroed under load. */
  readonly preloadN: number
  /** The unloaded cell was not seen: the indicator's own zero is believed, less readings of the wrong sign that last. */
  readonly unseen: boolean
  /** The only witness is a rest at the start that nothing later confirms, or a brief one at the very end. */
  readonly lone: boolean
  /** Zeros at the time of the greatest reading, by weight; empty where a person said where the rest is. */
  readonly beliefs: readonly ZeroBelief[]
}

export interface ZeroStage {
  readonly epochs: readonly Epoch[]
  readonly zeros: readonly Zero[]
}

/** A rest that ends a record is sure when it lasts this long. */
const BRIEF_S = 1
/** What is shorter is no witness by itself: half a second, less what time stamps jitter. */
const WITNESS_S = 0.48
/** A lone rest before loading counts as a zero when it lasts this long: a preload that is held would relax visibly. */
const LONE_REST_S = 2
/** The reading rose above a rest by this share of the range: what comes after is another rest. */
const LOADED_SHARE = 0.03

export interface ZeroInput {
  readonly timeS: Float64Array
  readonly forceN: Float64Array
  readonly segments: readonly Segment[]
  readonly signal: Pick<Signal, 'noiseN' | 'quantumN' | 'periodS'>
  readonly quiets: readonly Quiet[]
  readonly rezeros: readonly Rezero[]
  readonly amendments: Pick<Amendments, 'zeros'>
  /** Whether a lone rest at the start is believed; left out: when it lasts 2.5 s. */
  readonly believeLone?: boolean
  readonly priors?: ZeroPriors
}

/** The zero of each epoch: the lowest level that the reading keeps, since any load only raises it. */
export function findZeros(input: ZeroInput): ZeroStage {
  const epochs: Epoch[] = []
  for (const segment of input.segments) {
    const inside = input.rezeros.filter(r => r.index > segment.from && r.index < segment.to)
    const bounds = [segment.from, ...inside.map(r => r.index), segment.to]
    const own = bounds.slice(1).map((to, k) => epochOf(bounds[k]!, to, input))
    epochs.push(...carry(own, inside, input))
  }
  carryOverSegments(epochs, input)
  return { epochs, zeros: epochs.flatMap(epoch => zerosOf(epoch, input)) }
}

function epochOf(from: number, to: number, input: ZeroInput): Epoch {
  const { timeS, forceN, signal, quiets, amendments } = input
  const { noiseN, quantumN } = signal
  const inside = quiets.filter(q => q.from >= from && q.to <= to)
  const given = amendments.zeros.flatMap(({ fromS, toS }) => restGiven(timeS, forceN, from, to, fromS, toS))
  const levelStandardN = (q: Quiet): number =>
    // Where it swings at rest, the greatest force may be read anywhere in the swing.
    Math.hypot(q.swingN ?? Math.max(q.noiseN, noiseN) / Math.sqrt(Math.min(q.to - q.from, 100)), quantumN / 8)
  if (given.length > 0) return seen(from, to, given, 0, Math.max(...given.map(levelStandardN)))
  const { low: lowN, high: highN } = reachOf(forceN, from, to)
  const rangeN = highN - lowN
  const paceNPerS = loadingPace(timeS, forceN, from, to, signal)
  const levels = longest(
    withBriefEnds(
      withoutPushes(
        inside
          .flatMap(q => stillParts(timeS, forceN, q, signal, 0.004 * rangeN))
          .filter(
            q => !moves(q, paceNPerS, quantumN) && !passesThrough(timeS, forceN, q, from, to, paceNPerS),
          ),
        highN,
        signal,
      ),
      from,
      to,
      input,
    ),
  )
  const firstN = forceN[from]!
  const peakS = timeS[greatestAt(forceN, from, to)]!
  const chain = zeroChain(
    {
      quiets: levels,
      blocks: lowBlocks(timeS, forceN, from, to, levels, signal.periodS),
      startS: timeS[from]!,
      endS: timeS[to - 1]!,
      first: from,
      last: to,
      firstN,
      rangeN,
      greatestN: highN,
      noiseN,
      quantumN,
      priors: input.priors ?? zeroPriors,
    },
    peakS,
  )
  const { beliefs } = chain
  const rests = withoutSettling(withFading(levels, chain), forceN, LOADED_SHARE * rangeN)
  const first = rests[0]
  if (!first) return asIndicated(from, to, beliefs, input)
  // A rest that stands still says more than one that swings.
  const still = rests.filter(q => q.swingN === undefined && q.toS - q.fromS >= BRIEF_S)
  const standardN = Math.max(...(still.length > 0 ? still : rests).map(levelStandardN))
  const lastsS = rests.reduce((sum, q) => sum + q.toS - q.fromS + signal.periodS, 0)
  const nought = Math.max(4 * noiseN, 1.5 * quantumN, 0.001 * rangeN)
  const loadedAfter = (q: Quiet): boolean => reachOf(forceN, q.to, to).high > q.levelN + LOADED_SHARE * rangeN
  const onlyStart = rests.every(q => !reachesOver(forceN, from, q.from, q.levelN + LOADED_SHARE * rangeN))
  // A rest at the start that reads nought, and that nothing later confirms, may be a zero that was set under load.
  const lone = onlyStart && loadedAfter(rests.at(-1)!) && rests.every(q => Math.abs(q.levelN) <= nought)
  const believed = input.believeLone ?? lastsS >= LONE_REST_S
  if (lone && !believed) return { ...asIndicated(from, to, beliefs, input), lone: true }
  // What ends the record for less than half a second may be a hold of what is left, as well as a rest.
  const brief = lastsS < WITNESS_S
  const low = Math.min(...rests.map(q => q.levelN))
  const started = Math.max(
    4 * noiseN,
    2 * quantumN,
    0.003 * rangeN,
    1.5 * Math.abs(forceN[from + 1]! - firstN),
  )
  const preload =
    !rests.some(q => q.from - from < 3) && Math.abs(firstN) <= started && low < -nought ? firstN - low : 0
  if (brief && low > -started) return asIndicated(from, to, beliefs, input)
  const drifts = rests.some(q => q !== first && onDrift(q, first, rangeN))
  const steps = steppedKnots(timeS, forceN, rests, rangeN, chain.marginN)
  const epoch = {
    ...seen(from, to, rests, preload, standardN, drifts),
    ...(steps ? { knots: steps, steps: true } : {}),
    lone,
    beliefs,
  }
  // Readings of the wrong sign that are left at the end count all the same: no load is below them.
  return brief ? { ...epoch, unseen: true } : epoch
}

/** The rests, and what fades on below the last of them: stretches at its level that are called neither rest nor load. */
function withFading(levels: readonly Quiet[], { rests, marginN }: ZeroChain): readonly Quiet[] {
  const chosen = rests.map(k => levels[k]!)
  const last = chosen.at(-1)
  if (!last) return []
  const later = levels.slice(rests.at(-1)! + 1)
  const fades = later.every(q => q.levelN < last.levelN + marginN && q.levelN > last.levelN - 2 * marginN)
  return fades ? [...chosen, ...later] : chosen
}

/** A load that fades does so this many times faster in the first half of its rests than in the second. */
const FADES = 1.7

/** Whether the level falls faster in the first half of a run than in the second: a load that fades, no drift. */
function fades(run: readonly Quiet[]): boolean {
  if (run.length < 3) return false
  const [first, middle, last] = [run[0]!, run[run.length >> 1]!, run.at(-1)!]
  const pace = (a: Quiet, b: Quiet): number => (a.levelN - b.levelN) / (b.fromS + b.toS - a.fromS - a.toS)
  const early = pace(first, middle)
  return early > 0 && early > FADES * pace(middle, last) && pace(middle, last) > -0.2 * early
}

/** Rests in a row whose level fades towards the last of them are the end of an unloading: only the last is at rest. */
function withoutSettling(rests: readonly Quiet[], forceN: Float64Array, loadedN: number): readonly Quiet[] {
  const out: Quiet[] = []
  for (let a = 0; a < rests.length; ) {
    let b = a + 1
    while (
      b < rests.length &&
      !reachesOver(forceN, rests[b - 1]!.to, rests[b]!.from, rests[b]!.levelN + loadedN)
    )
      b++
    const run = rests.slice(a, b)
    out.push(...(fades(run) ? run.slice(-1) : run))
    a = b
  }
  return out
}

/** No more stretches are weighed against each other: the longest, and those at either end. */
const MAX_STRETCHES = 48

function longest(levels: readonly Quiet[]): readonly Quiet[] {
  if (levels.length <= MAX_STRETCHES) return levels
  const inner = levels.slice(1, -1).sort((a, b) => b.toS - b.fromS - (a.toS - a.fromS))
  return [levels[0]!, ...inner.slice(0, MAX_STRETCHES - 2), levels.at(-1)!].sort((a, b) => a.from - b.from)
}

function reachesOver(forceN: Float64Array, from: number, to: number, levelN: number): boolean {
  return to > from && reachOf(forceN, from, to).high > levelN
}

/** A few samples that stand still at an end of the record: too brief for a quiet stretch. */
const MAX_BRIEF = 12

/**
 * With the few samples that stand still after the greatest fall, to the end of the record, and those that stand still
 * before the first loading.
 */
function withBriefEnds(
  levels: readonly Quiet[],
  from: number,
  to: number,
  { timeS, forceN, signal: { noiseN, quantumN } }: ZeroInput,
): readonly Quiet[] {
  const { low, high } = reachOf(forceN, from, to)
  const flat = Math.max(6 * noiseN, 2.2 * quantumN, 0.004 * (high - low))
  const away = 0.03 * (high - low)
  const out = [...levels]
  let b = from + 1
  while (b < to && b - from < MAX_BRIEF && Math.abs(forceN[b]! - forceN[from]!) <= flat) b++
  const rises = reachOf(forceN, b, Math.min(to, b + 6)).high > forceN[b - 1]! + away
  if (b - from >= 3 && b - from < MAX_BRIEF && rises && !levels.some(q => q.from < b))
    out.unshift(...restGiven(timeS, forceN, from, b, timeS[from]!, timeS[b - 1]!))
  let a = to - 1
  while (a > from && to - a < MAX_BRIEF && Math.abs(forceN[a - 1]! - forceN[to - 1]!) <= flat) a--
  const fell = reachOf(forceN, Math.max(from, a - 6), a).high > forceN[a]! + away
  if (to - a >= 2 && to - a < MAX_BRIEF && fell && !levels.some(q => q.to > a))
    out.push(...restGiven(timeS, forceN, a, to, timeS[a]!, timeS[to - 1]!))
  return out
}

/** A stretch that creeps farther than `mostN` is several, each as still as can be. */
function stillParts(
  timeS: Float64Array,
  forceN: Float64Array,
  q: Quiet,
  signal: ZeroInput['signal'],
  mostN: number,
): readonly Quiet[] {
  const middle = (q.from + q.to) >> 1
  const moved = Math.abs(q.slopeNPerS) * (q.toS - q.fromS)
  if (q.swingN !== undefined || moved <= Math.max(mostN, 4 * signal.noiseN, 2 * signal.quantumN)) return [q]
  if (q.to - q.from < 2 * LEAST_PART || q.toS - q.fromS < 2 * BRIEF_S) return [q]
  return [
    ...stillParts(timeS, forceN, quietOver(timeS, forceN, q.from, middle, signal.noiseN), signal, mostN),
    ...stillParts(timeS, forceN, quietOver(timeS, forceN, middle, q.to, signal.noiseN), signal, mostN),
  ]
}

/** Samples in the shortest part of a stretch. */
const LEAST_PART = 8

/** Blocks of this length, or fewer of them in a long record. */
const BLOCK_S = 0.15
const MAX_BLOCKS = 1500

/** Means of the readings over short blocks outside the quiet stretches. */
function lowBlocks(
  timeS: Float64Array,
  forceN: Float64Array,
  from: number,
  to: number,
  levels: readonly Quiet[],
  periodS: number,
): LowBlock[] {
  const size = Math.max(1, Math.round(BLOCK_S / Math.max(periodS, 1e-9)), Math.ceil((to - from) / MAX_BLOCKS))
  const blocks: LowBlock[] = []
  let at = 0
  for (let a = from; a < to; a += size) {
    const b = Math.min(to, a + size)
    while (at < levels.length && levels[at]!.to <= a) at++
    const q = levels[at]
    if (q && q.from < b && q.to > a) continue
    blocks.push({
      atS: (timeS[a]! + timeS[b - 1]!) / 2,
      levelN: sumOf(forceN, a, b) / (b - a),
      lastsS: timeS[b - 1]! - timeS[a]! + Math.min(periodS, 1),
    })
  }
  return blocks
}

/**
 * The indicator is believed: its zero is nought. Where readings of the wrong sign last, no load is below the lowest of
 * them, and the zero is taken there.
 */
function asIndicated(
  from: number,
  to: number,
  beliefs: readonly ZeroBelief[],
  { timeS, forceN, signal }: ZeroInput,
): Epoch {
  const least = -Math.max(8 * signal.noiseN, 4 * signal.quantumN, 0.02 * reachOf(forceN, from, to).high)
  const need = Math.max(
    3,
    Math.round(WRONG_SIGN_S / Math.max(signal.periodS, 1e-9)),
    Math.round(WRONG_SIGN_SHARE * (to - from)),
  )
  let lowestN = 0
  for (let a = from; a + need <= to; a += Math.max(1, need >> 1)) {
    const { high } = reachOf(forceN, a, a + need)
    if (high < least && high < lowestN) lowestN = high
  }
  return {
    from,
    to,
    rests: [],
    basis: 'indicated',
    knots: [{ atS: timeS[from]!, levelN: lowestN }],
    standardN: 0,
    movedN: 0,
    drifts: false,
    steps: false,
    preloadN: 0,
    unseen: true,
    lone: false,
    beliefs,
  }
}

/** Readings of the wrong sign that last this long are no knock. */
const WRONG_SIGN_S = 0.3
/** And this share of the samples, where the clock may be wrong. */
const WRONG_SIGN_SHARE = 0.001

/**
 * The zero line where a zero stepped rather than drifted: it keeps the level of the rest before up to the last fall on
 * the way to the next, since a blow moves a cell and not the loading before it. `null` where nothing stepped.
 */
function steppedKnots(
  timeS: Float64Array,
  forceN: Float64Array,
  rests: readonly Quiet[],
  rangeN: number,
  sameN: number,
): Epoch['knots'] | null {
  let any = false
  const knots = rests.flatMap((q, k) => {
    const own = [
      { atS: q.fromS, levelN: q.levelN },
      { atS: q.toS, levelN: q.levelN },
    ]
    const before = rests[k - 1]
    if (!before || Math.abs(q.levelN - before.levelN) <= sameN || onDrift(q, before, rangeN)) return own
    any = true
    const at = lastFallAt(forceN, before.to, q.from, before.levelN)
    return [{ atS: timeS[at - 1]!, levelN: before.levelN }, { atS: timeS[at]!, levelN: q.levelN }, ...own]
  })
  return any ? knots : null
}

/** The first sample after the force was for the last time over half of its greatest in [from, to). */
function lastFallAt(forceN: Float64Array, from: number, to: number, levelN: number): number {
  const { high } = reachOf(forceN, from, to)
  let i = to - 1
  while (i > from && forceN[i]! < levelN + 0.5 * (high - levelN)) i--
  return Math.max(1, i + 1)
}

function seen(
  from: number,
  to: number,
  rests: readonly Quiet[],
  preloadN: number,
  standardN: number,
  drifts = false,
): Epoch {
  const levels = rests.map(q => q.levelN)
  return {
    from,
    to,
    rests,
    basis: 'rest',
    knots: rests.flatMap(q => [
      { atS: q.fromS, levelN: q.levelN },
      { atS: q.toS, levelN: q.levelN },
    ]),
    standardN,
    movedN: Math.max(...levels) - Math.min(...levels),
    drifts,
    preloadN,
    steps: false,
    unseen: false,
    lone: false,
    beliefs: [],
  }
}

/**
 * A lower level that is left again for the very level that was there before is a push on the grips, not a lower zero:
 * where it is short beside its neighbours, or lasts shorter than the other level does in all and a greater pull tells
 * that level from a load that was taken off and put on again.
 */
function withoutPushes(
  quiets: readonly Quiet[],
  highN: number,
  { noiseN, quantumN }: ZeroInput['signal'],
): readonly Quiet[] {
  const same = Math.max(5 * noiseN, 2.5 * quantumN)
  const lasted = (q: Quiet): number => q.toS - q.fromS
  return quiets.filter((q, k) => {
    const before = quiets[k - 1]
    const after = quiets[k + 1]
    if (!before || !after || q.levelN >= before.levelN - same) return true
    if (Math.abs(before.levelN - after.levelN) > same) return true
    if (lasted(q) < 0.5 * Math.min(lasted(before), lasted(after))) return false
    const longer = quiets.reduce(
      (sum, r) => sum + (Math.abs(r.levelN - before.levelN) <= same ? lasted(r) : 0),
      0,
    )
    return !(lasted(q) < longer && highN - before.levelN > before.levelN - q.levelN)
  })
}

/** Two rests that differ do so by drift when the slope within each leads from the one to the other. */
function onDrift(q: Quiet, lowest: Quiet, range: number): boolean {
  const apartS = (q.fromS + q.toS - lowest.fromS - lowest.toS) / 2
  const slope = (q.levelN - lowest.levelN) / apartS
  const agrees = (r: Quiet): boolean =>
    Math.abs(r.slopeNPerS - slope) < 3 * r.slopeStandardN + 0.3 * Math.abs(slope) &&
    Math.abs(r.slopeNPerS) > 3 * r.slopeStandardN
  return Math.abs(q.levelN - lowest.levelN) < 0.1 * range && agrees(q) && agrees(lowest)
}

function restGiven(
  timeS: Float64Array,
  forceN: Float64Array,
  from: number,
  to: number,
  fromS: number,
  toS: number,
): Quiet[] {
  let a = from
  while (a < to && timeS[a]! < fromS) a++
  let b = a
  let sum = 0
  let squares = 0
  for (; b < to && timeS[b]! <= toS; b++) {
    sum += forceN[b]!
    squares += forceN[b]! ** 2
  }
  const n = b - a
  if (n === 0) return []
  const level = sum / n
  return [
    {
      from: a,
      to: b,
      fromS: timeS[a]!,
      toS: timeS[b - 1]!,
      levelN: level,
      slopeNPerS: 0,
      slopeStandardN: 0,
      noiseN: Math.sqrt(Math.max(0, squares / n - level * level)),
    },
  ]
}

/** An epoch without a rest takes its zero over the rezero from its neighbour: the load stays, the reading jumps. */
function carry(epochs: readonly Epoch[], rezeros: readonly Rezero[], { timeS, signal }: ZeroInput): Epoch[] {
  const out = [...epochs]
  const take = (k: number, neighbour: Epoch | undefined, shift: number): void => {
    const epoch = out[k]!
    if (!epoch.unseen || !neighbour || neighbour.unseen) return
    const near = neighbour.from < epoch.from ? neighbour.knots.at(-1)! : neighbour.knots[0]!
    out[k] = {
      ...epoch,
      basis: 'carried',
      knots: [{ atS: timeS[epoch.from]!, levelN: near.levelN + shift }],
      standardN: Math.hypot(neighbour.standardN, signal.noiseN, signal.quantumN / 3),
      unseen: false,
    }
  }
  for (let k = 1; k < out.length; k++) take(k, out[k - 1], rezeros[k - 1]!.afterN - rezeros[k - 1]!.beforeN)
  for (let k = out.length - 2; k >= 0; k--) take(k, out[k + 1], rezeros[k]!.beforeN - rezeros[k]!.afterN)
  return out
}

/**
 * A segment of the same log in which no rest is seen, and which does not begin at nought, was not zeroed anew: the cell
 * and its zero are those of the segment before.
 */
function carryOverSegments(epochs: Epoch[], { timeS, forceN, segments, signal }: ZeroInput): void {
  for (let k = 1; k < epochs.length; k++) {
    const before = epochs[k - 1]!
    const epoch = epochs[k]!
    const segment = segments.find(s => s.from === epoch.from)
    if (!epoch.unseen || before.unseen || segment?.began !== 'reset') continue
    const { low, high } = reachOf(forceN, epoch.from, epoch.to)
    if (Math.abs(forceN[epoch.from]!) < NOUGHT_SHARE * (high - low)) continue
    epochs[k] = {
      ...epoch,
      basis: 'carried',
      knots: [{ atS: timeS[epoch.from]!, levelN: before.knots.at(-1)!.levelN }],
      standardN: Math.hypot(before.standardN, before.movedN / 2, signal.noiseN, signal.quantumN / 3),
      unseen: false,
    }
  }
}

/** A segment that begins this near to nought may have been zeroed. */
const NOUGHT_SHARE = 0.02

function zerosOf(epoch: Epoch, { timeS }: ZeroInput): Zero[] {
  const whole = { fromS: timeS[epoch.from]!, toS: timeS[epoch.to - 1]! }
  if (epoch.basis === 'rest') {
    return epoch.rests.map(q => ({
      fromS: q.fromS,
      toS: q.toS,
      levelN: q.levelN,
      uncertaintyN: 2 * epoch.standardN,
      basis: 'rest',
    }))
  }
  const levelN = epoch.knots[0]?.levelN ?? 0
  return [{ ...whole, levelN, uncertaintyN: 2 * epoch.standardN, basis: epoch.basis }]
}
