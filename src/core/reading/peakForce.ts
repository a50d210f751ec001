import { fitLine, type Line, lineAt } from '../signal/line.ts'
import { firstAtOrAfter } from '../signal/search.ts'
import type { Analysis } from './analyse.ts'
import type { BudgetLine, PeakForce, ZeroAlternative } from './document.ts'
import { type KnownRig, knownRigLines } from './knownRig.ts'
import { leftOutAtTop } from './leftOutAtTop.ts'
import type { PullPeak } from './peak.ts'
import { type Scale, scaleLines } from './scale.ts'
import { type Epoch, epochAt, restBeyond } from './zero/epoch.ts'
import { zeroLevelAt } from './zero/zeroLine.ts'

export interface PeakForceOptions {
  readonly scale: Scale | null
  readonly capacityN: number | null
  /** Greatest travel was reached; the specimen may have held more. */
  readonly strokeReached: boolean
  /** What a check of the rig found. */
  readonly known: KnownRig | null
}

/** Coverage factor of a 95 % interval. */
const COVER = 2
/** A cell is taken to its capacity when the peak is this near to it. */
const AT_CAPACITY = 0.98

/** Names of the parts, as the ledger and the explanations know them. */
const NOISE = 'noise'
const ZERO = 'zero'
const BETWEEN = 'between samples'

const NONE: PeakForce = {
  status: 'no-pull',
  zero: 'as-indicated',
  zeroAlternatives: null,
  valueN: null,
  uncertaintyN: null,
  lowN: null,
  highN: null,
  covers: [],
  atS: null,
  indicatedN: null,
}

/** Index of the pull with the greatest force; −1 where there is none. */
export function mainPull(peaks: readonly PullPeak[]): number {
  let main = -1
  peaks.forEach((peak, k) => {
    if (main < 0 || peak.valueN > peaks[main]!.valueN) main = k
  })
  return main
}

/** The greatest force of the recording, what is known of its doubt, and the parts that make it up. */
export function peakForce(
  analysis: Analysis,
  options: PeakForceOptions,
): { peak: PeakForce; budget: BudgetLine[] } {
  const main = mainPull(analysis.peaks)
  if (main < 0) return { peak: NONE, budget: [] }
  const peak = analysis.peaks[main]!
  const epoch = epochAt(analysis.zero.epochs, peak.sampleIndex) ?? analysis.zero.epochs[0]!
  const { scale, known } = options
  const beyondN = driftBeyondN(epoch, peak.atS)
  const knownLines = knownRigLines(analysis, peak, epoch, known, beyondN)
  const budget = [...budgetOf(analysis, peak, epoch, scale), ...leftOutAtTop(analysis, peak), ...knownLines]
  const addedN = knownLines.reduce((sum, line) => sum + line.correctionN, 0)
  const own = budget.filter(line => line.source !== BETWEEN && line.source !== NOISE)
  const common = COVER * Math.hypot(...own.map(line => line.standardN))
  const below = Math.hypot(peak.valueN - peak.lowN, common)
  const above = Math.hypot(peak.highN - peak.valueN, common)
  const status = statusOf(analysis, main, options)
  const indicatedN = peak.sampleN + zeroLevelAt(epoch, peak.sampleS)
  const limitN = analysis.overRange && overRangeIn(analysis, main) ? analysis.overRange.limitN : null
  // Where the reading was cut, only the lower end is known.
  const open = limitN !== null
  const valueN = limitN === null ? peak.valueN + addedN : limitN - zeroLevelAt(epoch, peak.atS)
  const hidden = epoch.unseen ? (analysis.hidden?.highN ?? 0) : 0
  const alternatives = zeroAlternatives(epoch, valueN, zeroLevelAt(epoch, peak.atS))
  const others = alternatives.map(a => a.peakN)
  return {
    peak: {
      status,
      zero: epoch.unseen ? 'as-indicated' : epoch.preloadN > 0 ? 'set-under-load' : 'seen',
      zeroAlternatives: epoch.unseen ? alternatives : null,
      valueN,
      uncertaintyN: open ? null : (below + above) / 2,
      lowN: Math.min(valueN, ...others) - below,
      highN: open ? null : Math.max(valueN + hidden, ...others) + above,
      covers: budget.map(line => line.source).filter(source => !(epoch.unseen && source === ZERO)),
      atS: peak.atS,
      indicatedN,
    },
    budget,
  }
}

/** Zeros that lie nearer than this share of the peak are one. */
const SAME_ZERO = 0.01
/** Zeros below this weight are no longer possible. */
const POSSIBLE = 0.05

/** Zeros other than the one taken that keep over 5 %, and the peak that would follow from each. */
function zeroAlternatives({ beliefs }: Epoch, valueN: number, takenN: number): ZeroAlternative[] {
  const near = SAME_ZERO * Math.max(Math.abs(valueN), 1e-12)
  const merged: { levelN: number; weight: number; basis: string }[] = []
  for (const { levelN, weight, before, after } of beliefs) {
    const same = merged.find(m => Math.abs(m.levelN - levelN) <= near)
    if (same) same.weight += weight
    else merged.push({ levelN, weight, basis: before === null && after === null ? 'indicated' : 'rest' })
  }
  return merged
    .filter(m => m.weight > POSSIBLE && Math.abs(m.levelN - takenN) > near)
    .map(m => ({ ...m, peakN: valueN + takenN - m.levelN }))
}

function budgetOf({ pace }: Analysis, peak: PullPeak, epoch: Epoch, scale: Scale | null): BudgetLine[] {
  const half = (peak.highN - peak.lowN) / (2 * COVER)
  const noise = Math.min(pace.noiseN, half)
  const level = zeroLevelAt(epoch, peak.sampleS)
  const lines: BudgetLine[] = [
    { source: NOISE, standardN: noise, correctionN: 0, shared: 'none' },
    { source: 'display step', standardN: pace.quantumN / Math.sqrt(12), correctionN: 0, shared: 'none' },
    { source: ZERO, standardN: epoch.standardN, correctionN: -level, shared: 'recording' },
    {
      source: BETWEEN,
      standardN: Math.sqrt(Math.max(0, half ** 2 - noise ** 2)),
      correctionN: peak.valueN - peak.sampleN,
      shared: 'none',
    },
  ]
  const beyond = driftBeyondN(epoch, peak.atS)
  if (epoch.movedN > 0 || beyond > 0) {
    lines.push({
      source: epoch.drifts || beyond > 0 ? 'zero drift' : 'weight left on the cell',
      standardN: Math.hypot(movedStandardN(epoch), beyond),
      correctionN: 0,
      shared: 'recording',
    })
  }
  if (scale) {
    lines.push(...scaleLines(scale, peak.valueN))
  }
  return lines
}

/**
 * Between two rests the zero may lie anywhere: taken on the straight line from one to the other it is off by half the
 * way at most, and taken at the level before a step by the whole of it.
 */
const movedStandardN = ({ movedN, steps }: Epoch): number => (steps ? movedN / 2 : movedN / Math.sqrt(12))

/**
 * Where all rests lie on one side of a time, the zero may have drifted between them and it: by nothing, or by as much
 * as the slope within the nearest rest, or between the first and the last, leads to; as a root mean square over
 * everything from the one to the other.
 */
function driftBeyondN(epoch: Epoch, atS: number): number {
  const { rests, movedN, standardN } = epoch
  const beyond = restBeyond(epoch, atS)
  if (!beyond) return 0
  const { rest: near, awayS } = beyond
  const [first, last] = [rests[0]!, rests.at(-1)!]
  // A slope is believed to go on for a few times as long as it was seen.
  const goesOn = (slopeNPerS: number, seenS: number): number =>
    Math.abs(slopeNPerS) * Math.min(awayS, GOES_ON * seenS)
  const own =
    Math.abs(near.slopeNPerS) > SURE * near.slopeStandardN
      ? goesOn(near.slopeNPerS, near.toS - near.fromS)
      : 0
  const apartS = (last.fromS + last.toS - first.fromS - first.toS) / 2
  const between =
    apartS > 0 && movedN > SURE * standardN
      ? goesOn((last.levelN - first.levelN) / apartS, last.toS - first.fromS)
      : 0
  return Math.max(own, between) / Math.sqrt(3)
}

/** A drift is believed to go on for so many times as long as it was seen. */
const GOES_ON = 3

/** A slope or a step between rests is believed from so many standard deviations on. */
const SURE = 3

/** Standard uncertainty of the zero at a time, with its moving between rests and beyond them. */
export const zeroStandardN = (epoch: Epoch, atS: number): number =>
  Math.hypot(epoch.standardN, movedStandardN(epoch), driftBeyondN(epoch, atS))

function overRangeIn({ overRange, pulls, series }: Analysis, main: number): boolean {
  if (!overRange) return false
  const pull = pulls[main]!
  const at = Math.floor(overRange.from / series.block)
  return at >= pull.from - 1 && at <= pull.to
}

/**
 * Whether the greatest force may lie in a stretch without readings: from its course before and after, it can have gone
 * beyond the greatest reading there. A round top lies below the crossing of the tangents on both sides; where the
 * force after the gap does not come down to meet the one before it, it may have grown all the way.
 */
function topInGap({ signal, series, loadN, pulls, peaks, pace }: Analysis, main: number): boolean {
  const { timeS } = series
  const pull = pulls[main]!
  const peakN = peaks[main]!.valueN
  return signal.gaps.some(({ fromS, toS }) => {
    const a = firstAtOrAfter(timeS, fromS)
    const b = firstAtOrAfter(timeS, toS)
    if (a <= pull.from || b > pull.to || b - a > 2) return false
    const reach = Math.max(MIN_SLOPE_SAMPLES, Math.round((toS - fromS) / Math.max(pace.periodS, 1e-9)))
    const before = fitLine(timeS, loadN, Math.max(pull.from, a + 1 - reach), a + 1)
    const after = fitLine(timeS, loadN, b, Math.max(b + 1, Math.min(pull.to, b + reach)))
    const couldN = greatestBetween(before, after, fromS, toS)
    return couldN > peakN + 4 * pace.noiseN + GAP_MARGIN * peakN && loadN[b]! < couldN
  })
}

/** The greatest force that two courses allow between them, in N. */
function greatestBetween(before: Line, after: Line, fromS: number, toS: number): number {
  if (!(before.slopeNPerS > 0)) return lineAt(before, fromS)
  const apartN = lineAt(after, fromS) - lineAt(before, fromS)
  const growsS = apartN / (before.slopeNPerS - after.slopeNPerS)
  const meet = after.slopeNPerS < 0 && growsS > 0 && growsS < toS - fromS
  return lineAt(before, meet ? fromS + growsS : toS)
}

/** Readings that the course beside a gap is taken from, at least. */
const MIN_SLOPE_SAMPLES = 6
/** A gap in which the force can have grown by less than this share of the peak hides no peak. */
const GAP_MARGIN = 0.002

function statusOf(
  analysis: Analysis,
  main: number,
  { capacityN, strokeReached }: PeakForceOptions,
): PeakForce['status'] {
  const { peaks, ends } = analysis
  const peak = peaks[main]!
  if (overRangeIn(analysis, main) || peak.gap || topInGap(analysis, main)) return 'at-least'
  if (capacityN !== null && peak.valueN >= AT_CAPACITY * capacityN) return 'at-least'
  const gaveWay =
    analysis.explained.some(e => e.kind === 'break') ||
    ends.some(end => end === 'break' || end === 'softening')
  if (!gaveWay) return strokeReached ? 'at-least' : 'not-reached'
  return 'measured'
}
