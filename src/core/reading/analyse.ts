import type { WildPattern } from '../health/glitches.ts'
import type { Recording } from '../recording.ts'
import { findOverRange, type OverRange } from '../signal/overRange.ts'
import { greatestAt, reachOf } from '../signal/scan.ts'
import type { Signal } from '../signal/summary.ts'
import type { Working } from '../signal/working.ts'
import { type Amendments, isHeld } from './amendments.ts'
import { beforeZero, type Pace, type Start } from './beforeZero.ts'
import { findDrops } from './drops.ts'
import { type Explained, explainDrops } from './elements.ts'
import { type PullEnd, pullEnd, withLastStep, withoutCarriedMore } from './ends.ts'
import { type HiddenLoad, hiddenLoad, judgeLoneRest } from './hiddenLoad.ts'
import { withoutLiftedOff } from './liftedOff.ts'
import { type Drop, UNKNOWN_SHARE } from './measureDrop.ts'
import { type PullPeak, readPeak, withBriefTop } from './peak.ts'
import { findPulls, type PullSpan, pullThresholdN } from './pulls.ts'
import type { Quiet } from './quiet.ts'
import { NEAR_PULL_S } from './replay.ts'
import type { Rezero } from './rezero.ts'
import { withoutStickSlip } from './stickSlip.ts'
import { stoppedInFall } from './stoppedInFall.ts'
import { withoutYield } from './yieldDrop.ts'
import { epochAt, type ZeroStage } from './zero/epoch.ts'
import { lessZero, zeroLevelAt } from './zero/zeroLine.ts'
import { findZeros } from './zero/zeros.ts'

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
  const start = beforeZero(recording, options.wild?.length ? options.wild : NO_WILD)
  const first = load(start, options)
  if (!first.zero.epochs.some(epoch => epoch.lone)) return finish(start, first, options)
  // A lone rest is judged by the drops, once with and once without it.
  const doubted = first.zero.epochs.some(e => e.unseen) ? first : load(start, options, false)
  const believed = doubted === first ? load(start, options, true) : first
  const verdict = judgeLoneRest(believed, doubted, explainOptions(options, start.pace))
  return finish(start, verdict === 'seen' ? believed : verdict === 'unseen' ? doubted : first, options)
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
