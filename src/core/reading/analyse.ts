import type { WildPattern } from '../health/glitches.ts'
import type { Recording } from '../recording.ts'
import { type Extent, extentOf } from '../signal/extent.ts'
import { findOverRange, type OverRange } from '../signal/overRange.ts'
import { greatestAt, reachOf } from '../signal/scan.ts'
import { type Signal, signalSummary } from '../signal/summary.ts'
import { type Working, workingSeries } from '../signal/working.ts'
import { type Amendments, isHeld } from './amendments.ts'
import { findDrops } from './drops.ts'
import { type Explained, explainDrops, hiddenLoadEvidence } from './elements.ts'
import { type PullEnd, pullEnd, withLastStep, withoutCarriedMore } from './ends.ts'
import { withoutLiftedOff } from './liftedOff.ts'
import { type Drop, UNKNOWN_SHARE } from './measureDrop.ts'
import { type PullPeak, readPeak, withBriefTop } from './peak.ts'
import { findPulls, type PullSpan, pullThresholdN } from './pulls.ts'
import { type Quiet, quietNoise, quietStretches } from './quiet.ts'
import { NEAR_PULL_S } from './replay.ts'
import { findRezeros, type Rezero } from './rezero.ts'
import { withoutStickSlip } from './stickSlip.ts'
import { stoppedInFall } from './stoppedInFall.ts'
import { swingingStretches, withSwings } from './swings.ts'
import { travelAlong } from './travel.ts'
import { withoutYield } from './yieldDrop.ts'
import { epochAt, type ZeroStage } from './zero/epoch.ts'
import { lessZero, zeroLevelAt } from './zero/zeroLine.ts'
import { findZeros } from './zero/zeros.ts'

/** Rate and doubts of the working series. */
export type Pace = Pick<Signal, 'periodS' | 'jitterS' | 'noiseN' | 'quantumN'>

/** Everything that the stages found, in the order in which they found it. */
export interface Analysis {
  readonly signal: Signal
  readonly series: Working
  readonly pace: Pace
  readonly rezeros: readonly Rezero[]
  readonly zero: ZeroStage
  readonly overRange: OverRange | null
  /** Force less its zero, on the working series. */
  readonly loadN: Float64Array
  readonly pulls: readonly PullSpan[]
  readonly ends: readonly PullEnd[]
  readonly peaks: readonly PullPeak[]
  readonly explained: readonly Explained[]
  /** Load that the zero hides, as far as the drops of a bundle tell; `null` where the zero was seen or they do not. */
  readonly hidden: HiddenLoad | null
  /** Averaging of the converter, in periods. */
  readonly span: number
  /** Extension or travel along the series; `null` where the log has none. */
  readonly travelMm: Float64Array | null
}

export interface HiddenLoad {
  readonly valueN: number
  readonly lowN: number
  readonly highN: number
}

export interface AnalyseOptions {
  readonly elements: number | null
  readonly sensitivity: number
  readonly amendments: Amendments
  /** A check of the rig showed that a sudden change arrives at once. */
  readonly settlesAtOnce?: boolean
  /** Wild readings that a check of the rig found. */
  readonly wild?: readonly WildPattern[]
}

const NO_WILD: readonly WildPattern[] = []

/** Runs the stages of a reading, one after another. */
export function analyse(recording: Recording, options: AnalyseOptions): Analysis {
  const start = startOf(recording, options.wild?.length ? options.wild : NO_WILD)
  const first = load(start, options)
  if (!first.zero.epochs.some(epoch => epoch.lone)) return finish(start, first, options)
  // A lone rest is judged by the drops, once with and once without it.
  const doubted = first.zero.epochs.some(e => e.unseen) ? first : load(start, options, false)
  const believed = doubted === first ? load(start, options, true) : first
  const verdict = judgeLoneRest(believed, doubted, options, start.pace)
  return finish(start, verdict === 'seen' ? believed : verdict === 'unseen' ? doubted : first, options)
}

/**
 * What the stages before the zero found, which only the known wild readings touch: a recording never changes, and is read
 * again and again.
 */
const starts = new WeakMap<Recording, { readonly wild: readonly WildPattern[]; readonly start: Start }>()

function startOf(recording: Recording, wild: readonly WildPattern[]): Start {
  const last = starts.get(recording)
  if (last?.wild === wild) return last.start
  const start = beforeZero(recording, wild)
  starts.set(recording, { wild, start })
  return start
}

/** Noise, glitches, rests and settings of the zero. */
function beforeZero(recording: Recording, wild: readonly WildPattern[]): Start {
  const extent = extentOf(recording.forceN)
  const rough = signalSummary(withinReason(recording, extent), wild)
  const series = workingSeries(
    recording.timeS,
    rough.forceN,
    recording.segments,
    rough.rateHz,
    rough.gaps.map(gap => gap.from),
  )
  const { timeS, forceN, segments } = series
  const noise = quietNoise(quietStretches(timeS, forceN, segments, paceOf(rough, series.block)))
  const signal =
    noise === null
      ? rough
      : { ...rough, noiseN: Math.min(MAX_NOISE * rough.noiseN, noise.usualN * Math.sqrt(series.block)) }
  const pace = paceOf(signal, series.block)
  const calmN = Math.min(pace.noiseN, noise?.calmestN ?? pace.noiseN)
  const still = quietStretches(timeS, forceN, segments, pace)
  const quiets = withSwings(still, swingingStretches(timeS, forceN, segments, pace))
  const rezeros = findRezeros(timeS, forceN, segments, pace, quiets)
  const { high: greatestN } = rough.forceN === recording.forceN ? extent : extentOf(rough.forceN)
  const travelMm = travelAlong(recording, timeS)
  return { timeS: recording.timeS, signal, series, pace, calmN, quiets, rezeros, greatestN, travelMm }
}

/** What fluctuates about a held load, or bends, is no noise of the converter: it is at most so many of the first estimate. */
const MAX_NOISE = 2

/** Nothing on a bench reaches this force; squares of larger numbers would leave the range of floating point. */
const MOST_N = 1e100

function withinReason(recording: Recording, { low, high }: Extent): Recording {
  return high > MOST_N || low < -MOST_N
    ? { ...recording, forceN: recording.forceN.map(f => Math.min(MOST_N, Math.max(-MOST_N, f))) }
    : recording
}

/** Noise and display step are less in a mean of `block` samples. */
const paceOf = ({ periodS, jitterS, noiseN, quantumN }: Signal, block: number): Pace => ({
  periodS: periodS * block,
  jitterS: jitterS / Math.sqrt(block),
  noiseN: noiseN / Math.sqrt(block),
  quantumN: quantumN / block,
})

interface Start {
  /** Times of the recording's own readings. */
  readonly timeS: Float64Array
  readonly signal: Signal
  readonly series: Working
  readonly pace: Pace
  /** Noise of the converter where the reading is calmest, in N: what else fluctuates is force. */
  readonly calmN: number
  readonly quiets: readonly Quiet[]
  readonly rezeros: readonly Rezero[]
  /** Greatest force of the signal. */
  readonly greatestN: number
  readonly travelMm: Float64Array | null
}

interface Loaded {
  readonly zero: ZeroStage
  readonly loadN: Float64Array
  readonly overRange: OverRange | null
  readonly pulls: readonly PullSpan[]
  readonly drops: readonly Drop[]
  readonly span: number
}

/** From the zero to the drops. */
function load(
  { signal, series, pace, quiets, rezeros, greatestN: topN }: Start,
  { amendments, sensitivity, elements }: AnalyseOptions,
  believeLone?: boolean,
): Loaded {
  const { timeS, forceN, segments } = series
  const zero = findZeros({
    timeS,
    forceN,
    segments,
    signal: pace,
    quiets: quiets.filter(q => !isHeld(amendments, q)),
    rezeros,
    amendments,
    ...(believeLone === undefined ? {} : { believeLone }),
  })
  const loadN = lessZero(timeS, forceN, zero.epochs)
  const greatestN = Math.max(0, loadN[greatestAt(loadN, 0, loadN.length)] ?? 0)
  const thresholdN = pullThresholdN(greatestN, signal.noiseN, signal.quantumN)
  const wanderN = Math.max(0, ...zero.epochs.map(e => e.movedN))
  const pulls = standsStill(forceN, quiets, pace)
    ? []
    : withoutDropped(findPulls(timeS, loadN, segments, thresholdN, wanderN), timeS, amendments)
  const zeroN = zero.epochs[0] ? zeroLevelAt(zero.epochs[0], timeS[0] ?? 0) : 0
  const overRange = findOverRange(signal.forceN, { ...signal, zeroN, greatestN: topN })
  const { drops, span } = findDrops(timeS, loadN, pulls, segments, {
    ...pace,
    greatestN,
    thresholdN,
    sensitivity,
  })
  const cutN = overRange
    ? overRange.limitN - zeroN - 4 * pace.noiseN - 2 * pace.quantumN
    : Number.POSITIVE_INFINITY
  return {
    zero,
    loadN,
    overRange,
    pulls,
    drops: withoutYield(
      timeS,
      loadN,
      pulls,
      withoutLiftedOff(
        loadN,
        pulls,
        quiets,
        withoutStickSlip(
          drops.map(d => (loadN[d.from]! >= cutN ? cutOff(d) : d)),
          elements,
        ),
      ),
      elements,
    ),
    span,
  }
}

/** A record that is one quiet stretch but for so small a share of its readings, none of them far out of its noise. */
const STILL_SHARE = 0.95
const STILL_NOISES = 8

/**
 * Whether a record shows one level and nothing else: the cell was empty and never tared, or something hung there before
 * and after. Either way nothing was pulled.
 */
function standsStill(forceN: Float64Array, quiets: readonly Quiet[], { noiseN, quantumN }: Pace): boolean {
  const [only] = quiets
  if (quiets.length !== 1 || only!.to - only!.from < STILL_SHARE * forceN.length) return false
  const { low, high } = reachOf(forceN, 0, forceN.length)
  const driftN = Math.abs(only!.slopeNPerS) * (only!.toS - only!.fromS)
  const margin = STILL_NOISES * Math.max(noiseN, quantumN)
  return driftN <= margin && high - low <= driftN + 2 * margin
}

/** A drop from the limit of the range: the share that was lost can be anything from what shows upwards. */
const cutOff = (drop: Drop): Drop => ({ ...drop, cut: true, shareStandard: UNKNOWN_SHARE })

/** Pulls that no adjustment has dropped. */
function withoutDropped(
  pulls: readonly PullSpan[],
  timeS: Float64Array,
  { droppedPulls }: Amendments,
): readonly PullSpan[] {
  const out = [...pulls]
  for (const { atS } of droppedPulls) {
    const away = out.map(p => Math.max(0, timeS[p.from]! - atS, atS - timeS[p.to - 1]!))
    const least = Math.min(...away)
    if (least <= NEAR_PULL_S) out.splice(away.indexOf(least), 1)
  }
  return out
}

/** Hidden loads that are tried, over the greatest force. */
const HIDDEN_SHARES = Array.from({ length: 17 }, (_, k) => k / 16)

/**
 * What the drops say of a lone rest: whether the specimen was slack in it; `null` where they do not tell against what
 * its length and its level say.
 */
function judgeLoneRest(
  believed: Loaded,
  doubted: Loaded,
  options: AnalyseOptions,
  pace: Pace,
): 'seen' | 'unseen' | null {
  const told = explainOptions(options, pace)
  const level = ({ zero }: Loaded): number => zero.epochs.find(e => e.lone)?.knots[0]?.levelN ?? 0
  const offsetN = level(believed) - level(doubted)
  const greatestN = Math.max(0, ...doubted.drops.map(d => d.beforeN))
  // Loads hidden below the lone rest, which lies `offsetN` above the zero that the doubting counts from.
  const loadsN = HIDDEN_SHARES.slice(1).map(share => Math.max(0, 0.8 * share * greatestN - offsetN))
  const slack = hiddenLoadEvidence(believed.drops, told, [0])
  const loaded = hiddenLoadEvidence(doubted.drops, told, loadsN)
  if (!slack || !loaded) return null
  // Even odds beforehand; the loads share theirs.
  const some = loaded.reduce((sum, e) => sum + e, 0) / loaded.length
  if (slack[0]! > DECIDED * some) return 'seen'
  return some > DECIDED * slack[0]! ? 'unseen' : null
}

/** Odds from which on the drops are believed. */
const DECIDED = 20

const explainOptions = ({ elements, amendments }: AnalyseOptions, { periodS }: Pace) => ({
  elements,
  labels: amendments.labels,
  periodS,
})

/** From the drops to the peaks. */
function finish(start: Start, loaded: Loaded, options: AnalyseOptions): Analysis {
  const { signal, series, pace, rezeros, travelMm } = start
  const { zero, loadN, overRange, pulls, drops, span } = loaded
  const { timeS } = series
  const how = explainOptions(options, pace)
  const hidden = zero.epochs.some(e => e.unseen) ? hiddenLoad(drops, how) : null
  const unseen = zero.epochs.some(e => e.unseen)
  const told = explainDrops(drops, { ...how, hiddenN: unseen ? (hidden?.valueN ?? 0) : null })
  const stepped = withLastStep(loadN, pulls, withoutCarriedMore(loadN, pulls, told))
  const torn = pulls.flatMap((pull, k) => {
    const broke = stepped.some(e => e.kind === 'break' && e.drop.pull === k)
    const tear = broke ? null : stoppedInFall(timeS, loadN, pull, k, pace)
    return tear ? [tear] : []
  })
  const explained = [...stepped, ...torn].sort((a, b) => a.drop.from - b.drop.from)
  const peaks = pulls.map(pull => {
    const peak = readPeak(timeS, loadN, pull, drops, {
      ...pace,
      noiseN: start.calmN,
      span,
      settlesAtOnce: options.settlesAtOnce === true,
    })
    const epoch = epochAt(zero.epochs, peak.sampleIndex)
    if (series.block === 1 || !epoch) return peak
    const lastedS = { fromS: timeS[pull.from]!, toS: timeS[pull.to - 1]! }
    return withBriefTop(peak, { ...signal, timeS: start.timeS }, lastedS, tS => zeroLevelAt(epoch, tS))
  })
  return {
    signal,
    series,
    pace,
    rezeros,
    zero,
    overRange,
    loadN,
    pulls,
    ends: pulls.map((pull, k) =>
      pullEnd(timeS, loadN, pull, explained, { alike: cameAgain(peaks, k), travelMm }),
    ),
    peaks,
    explained,
    hidden,
    span,
    travelMm,
  }
}

/** Whether another pull came nearly as high: a specimen that is broken does not. */
const cameAgain = (peaks: readonly PullPeak[], k: number): boolean =>
  peaks.some((p, j) => j !== k && p.valueN > ALIKE * peaks[k]!.valueN)

const ALIKE = 0.8

function hiddenLoad(drops: readonly Drop[], told: ReturnType<typeof explainOptions>): HiddenLoad | null {
  const greatestN = Math.max(0, ...drops.map(d => d.beforeN))
  const loadsN = HIDDEN_SHARES.map(share => share * greatestN)
  const evidence = hiddenLoadEvidence(drops, told, loadsN)
  const total = evidence?.reduce((sum, e) => sum + e, 0) ?? 0
  if (!evidence || !(total > 0)) return null
  const at = (share: number): number => {
    let sum = 0
    for (let k = 0; k < evidence.length; k++) {
      sum += evidence[k]!
      if (sum >= share * total) return loadsN[k]!
    }
    return loadsN.at(-1)!
  }
  return { valueN: at(0.5), lowN: at(0.025), highN: at(0.975) }
}
