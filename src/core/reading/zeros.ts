import type { Segment } from '../recording.ts'
import { reachOf } from '../signal/scan.ts'
import type { Signal } from '../signal/summary.ts'
import type { Amendments } from './amendments.ts'
import type { Zero } from './document.ts'
import type { Quiet } from './quiet.ts'
import { endsAt, loadingPace, moves, readsLower, relaxes } from './restEvidence.ts'
import type { Rezero } from './rezero.ts'

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
  /** Load on the specimen when the indicator was zeroed, in N; 0 where it was not zeroed under load. */
  readonly preloadN: number
  /** No stretch without load is known: `knots` then hold the lowest reading, which the zero cannot exceed. */
  readonly unseen: boolean
  /** The only witness is a rest at the start that nothing later confirms, or a brief one at the very end. */
  readonly lone: boolean
}

export interface ZeroStage {
  readonly epochs: readonly Epoch[]
  readonly zeros: readonly Zero[]
}

/** A stretch this near to an end of the record reaches it. */
const EDGE_S = 0.25
/** Rests at either end of one zero lie this near to each other, over the greatest force, also where no drift shows. */
const CLOSE_SHARE = 0.012
/** A rest that ends a record is sure when it lasts this long. */
const BRIEF_S = 1
/** What is shorter is no witness by itself: half a second, less what time stamps jitter. */
const WITNESS_S = 0.48
/** A lone rest before loading counts as a zero when it lasts this long: a preload that is held would relax visibly. */
const LONE_REST_S = 2.5
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
  const { high: highN } = reachOf(forceN, from, to)
  const paceNPerS = loadingPace(timeS, forceN, from, to, signal)
  const levels = withoutPushes(
    inside.filter(q => !moves(q, paceNPerS, quantumN)),
    highN,
    signal,
  )
  if (levels.length === 0) return notSeen(from, to, input, false)
  let lowest = levels[0]!
  for (const q of levels) if (q.levelN < lowest.levelN) lowest = q
  const range = Math.max(0, highN - lowest.levelN)
  // Stretches are trimmed by a block at either end.
  const edge = Math.max(5, Math.ceil(EDGE_S / Math.max(signal.periodS, 1e-9)))
  const close = Math.max(5 * noiseN, 2.5 * quantumN, 0.002 * range)
  const atEnd = (q: Quiet): boolean =>
    q.toS - q.fromS >= BRIEF_S && (q.from - from < edge || to - q.to < edge)
  const longLevels = levels.some(q => q.toS - q.fromS >= BRIEF_S && q.levelN - lowest.levelN <= close)
  const rests = levels.filter(q => {
    const above = q.levelN - lowest.levelN
    // Where longer rests are known, a brief level over them is the first of a slow loading.
    if (longLevels && q.toS - q.fromS < BRIEF_S && above > Math.max(3 * noiseN, 1.5 * quantumN)) return false
    return above <= close || (atEnd(q) && above <= CLOSE_SHARE * range) || onDrift(q, lowest, range)
  })
  const first = rests[0]!
  const last = rests.at(-1)!
  const lastsS = rests.reduce((sum, q) => sum + q.toS - q.fromS + signal.periodS, 0)
  const loaded = (a: number, b: number): boolean =>
    reachOf(forceN, a, b).high > lowest.levelN + Math.max(close, LOADED_SHARE * range)
  const group = !loaded(first.to, last.from)
  // A rest that stands still says more than one that swings.
  const still = rests.filter(q => q.swingN === undefined && q.toS - q.fromS >= BRIEF_S)
  const standardN = Math.max(...(still.length > 0 ? still : rests).map(levelStandardN))
  let lone = false
  if (group && !loaded(from, first.from) && loaded(last.to, to)) {
    // A lower reading, even in passing, shows that the only level was held under load; and so does one that relaxes.
    if (readsLower(forceN, from, to, lowest.levelN - close, 2 * close)) return notSeen(from, to, input, false)
    const believed = input.believeLone ?? (lastsS >= LONE_REST_S && !relaxes(first, quantumN))
    const confirmed = endsAt(forceN, from, to, lowest.levelN, close)
    if (!believed && !confirmed) return notSeen(from, to, input, true)
    return { ...seen(from, to, rests, 0, standardN), lone: !confirmed }
  }
  if (group && loaded(from, first.from)) {
    // A short stillness may be a hold of what is left, as well as a rest.
    if (lastsS < WITNESS_S) return notSeen(from, to, input, false)
    lone = lastsS < BRIEF_S && !loaded(last.to, to)
    if (lone && readsLower(forceN, from, to, lowest.levelN - close, 2 * close))
      return notSeen(from, to, input, false)
    if (lone && input.believeLone === false) return notSeen(from, to, input, true)
  }
  const start = levels[0]!
  const preload =
    start.from - from < edge &&
    !rests.includes(start) &&
    Math.abs(start.levelN) <= Math.max(4 * noiseN, 2 * quantumN, 0.003 * range)
      ? start.levelN - lowest.levelN
      : 0
  const drifts = rests.some(q => q !== lowest && onDrift(q, lowest, range))
  return { ...seen(from, to, rests, preload, standardN, drifts), lone }
}

/** Load stays above this share of the range where the zero is not known, so that nothing looks like a break to nothing. */
const UNSEEN_MARGIN = 0.03

function notSeen(from: number, to: number, { timeS, forceN, signal }: ZeroInput, lone: boolean): Epoch {
  const { low, high } = reachOf(forceN, from, to)
  const marginN = Math.max(UNSEEN_MARGIN * (high - low), 8 * signal.noiseN, 4 * signal.quantumN)
  return {
    from,
    to,
    rests: [],
    basis: 'indicated',
    knots: [{ atS: timeS[from]!, levelN: low - marginN }],
    standardN: 0,
    movedN: 0,
    drifts: false,
    preloadN: 0,
    unseen: true,
    lone,
  }
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
    unseen: false,
    lone: false,
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
