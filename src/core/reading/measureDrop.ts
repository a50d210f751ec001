import { fitLine, type Line, lineAt, lineStandardN } from '../signal/line.ts'
import { readingNoiseN } from '../signal/noise.ts'
import { quantileSorted } from '../signal/order.ts'
import { breakPoint } from './breakPoint.ts'
import { coursePriors } from './priors.ts'
import type { WeighedCourses } from './weighedCourses.ts'

/** A run of samples, each lower than the one before: the last before it, and its lowest. */
export interface Fall {
  readonly from: number
  readonly to: number
}

/** A quick fall of the force inside a pull, or at its end. */
export interface Drop {
  /** Index of the pull it lies in. */
  readonly pull: number
  /** Last sample before, first sample after the fall. */
  readonly from: number
  readonly to: number
  /** When the force fell, on the record's time axis. */
  readonly atS: number
  /** Force just before, with its 95 % interval, and just after. */
  readonly beforeN: number
  readonly lowN: number
  readonly highN: number
  readonly afterN: number
  /** Share of the force that was lost, and its standard uncertainty. */
  readonly share: number
  readonly shareStandard: number
  /** Straight lines through the samples before and after. */
  readonly before: Line
  readonly after: Line
  /** Standard deviation of a sample about them. */
  readonly readingN: number
  /** It began where the reading is cut: the force before, and the share lost, are not known. */
  readonly cut: boolean
  /** No force is left. */
  readonly leavesNothing: boolean
  /** Fall over the least fall that counts, at least 1. */
  readonly clearness: number
  /** Fall over the greatest rise over as many samples nearby. */
  readonly ratio: number
  /** At least as many gradual falls of about its size are in the same pull. */
  readonly amongTeeth: boolean
  /** The record stops in this fall: hardly a sample follows, and none that rises. */
  readonly stops: boolean
}

export interface MeasureOptions {
  readonly pull: number
  /** Samples that the lines before and after may reach. */
  readonly first: number
  readonly last: number
  /** Averaging of the converter, in periods. */
  readonly span: number
  readonly noiseN: number
  readonly quantumN: number
  readonly periodS: number
  readonly jitterS: number
  readonly thresholdN: number
  readonly leastDropN: number
  /** Fall over the greatest rise over as many samples nearby. */
  readonly ratio: number
  /** At least as many gradual falls of about its size are in the same pull. */
  readonly amongTeeth: boolean
  /** Filled anew for each drop. */
  readonly courses: WeighedCourses
}

/** Samples that a line before or after a drop may use, at most. */
const LINE_SAMPLES = 12
/** A sample farther off than this many standard deviations ends a straight stretch. */
const STRAIGHT = 2.7
/** The same for a drive whose pace changes, in seconds. */
const HAND_LINE_S = 0.15
/** How far back the drive's usual speed is looked up. */
const PACE_S = 4

/** Forces and tangents before and after a fall; `null` where it is no drop after all but part of a descent. */
export function measureDrop(
  timeS: Float64Array,
  loadN: Float64Array,
  fall: Fall,
  options: MeasureOptions,
): Drop | null {
  const { first, last, span, noiseN, quantumN, periodS, thresholdN, leastDropN } = options
  const readingN = readingNoiseN(noiseN, quantumN)
  const { paceNPerS, changesPerS } = paceBefore(timeS, loadN, first, fall.from, periodS)
  // A hand does not keep its pace for long: the last samples say more than a longer line.
  const most =
    changesPerS > 0.3 ? Math.min(LINE_SAMPLES, Math.max(4, Math.round(HAND_LINE_S / periodS))) : LINE_SAMPLES
  const after = lineAfter(timeS, loadN, fall.to, last, readingN, most)
  const reach = { first, from: fall.from, span: Math.max(1, span), most }
  const { line: before, to: baseTo } = baseLine(timeS, loadN, reach, readingN)
  const leavesNothing = loadN[fall.to]! <= thresholdN
  const point = breakPoint(
    {
      timeS,
      loadN,
      base: before,
      baseTo,
      after,
      from: fall.from,
      to: fall.to,
      span,
      periodS,
      jitterS: options.jitterS,
      corner: false,
      noiseN: readingN,
      paceNPerS,
      changesPerS,
      chain: chainChance(periodS),
      cascade: fall.to - fall.from > Math.max(1, span) + 1,
    },
    options.courses,
  )
  const dropN = point.beforeN - point.afterN
  const fallN = loadN[fall.from]! - loadN[fall.to]!
  // What falls no faster than the lines beside it belongs to a descent.
  const descent = Math.max(0, -before.slopeNPerS, -after.slopeNPerS) * (timeS[fall.to]! - timeS[fall.from]!)
  if (Math.min(dropN, fallN) < leastDropN || fallN < 2.2 * descent) return null
  const gap = overGap(timeS, fall, periodS)
  return {
    pull: options.pull,
    from: fall.from,
    to: fall.to,
    ...(gap ? readBeside(timeS, loadN, fall, readingN) : point),
    ...(leavesNothing && { afterN: Math.min(thresholdN, Math.max(0, gap ? loadN[fall.to]! : point.afterN)) }),
    before,
    after,
    readingN,
    cut: gap,
    leavesNothing,
    clearness: Math.max(1, dropN / leastDropN),
    ratio: options.ratio,
    amongTeeth: options.amongTeeth,
    stops: false,
  }
}

/** Whether readings are missing within a fall: what the force did there is not known. */
export const overGap = (timeS: Float64Array, { from, to }: Fall, periodS: number): boolean =>
  timeS[to]! - timeS[from]! > (to - from + GAP_STEPS) * periodS

/** Steps that are missing in a gap. */
const GAP_STEPS = 1.5

/**
 * A fall of which only the readings at both ends are sure, as over a gap: it stands at the last one before, with the
 * forces that were read.
 */
export function readBeside(
  timeS: Float64Array,
  loadN: Float64Array,
  { from, to }: Fall,
  readingN: number,
): Pick<Drop, 'atS' | 'beforeN' | 'lowN' | 'highN' | 'afterN' | 'share' | 'shareStandard'> {
  const [beforeN, afterN] = [loadN[from]!, loadN[to]!]
  return {
    atS: timeS[from]!,
    beforeN,
    lowN: beforeN - 2 * readingN,
    highN: beforeN + 2 * readingN,
    afterN,
    share: (beforeN - afterN) / beforeN,
    shareStandard: UNKNOWN_SHARE,
  }
}

/** Standard uncertainty of the share that was lost where the force before is not known: any share is possible. */
export const UNKNOWN_SHARE = 0.3

/** Chance beforehand that a fall is two breaks at different instants. */
const chainChance = (periodS: number): number =>
  Math.min(coursePriors.chainMost, coursePriors.chainRate * periodS)

/**
 * The line before a drop, from samples that the drop cannot have touched (`span` samples away), and onwards through
 * those that still lie on it.
 */
export function baseLine(
  timeS: Float64Array,
  loadN: Float64Array,
  { first, from, span, most }: { first: number; from: number; span: number; most: number },
  noiseN: number,
): { line: Line; to: number } {
  let to = Math.max(Math.min(from, first + 1), from - span)
  let line = lineBefore(timeS, loadN, first, to, noiseN, most)
  // Two samples make any line; where the stretch before them is a better one, they count as the change of pace.
  while (line.n <= 2 && to - 1 > first && from - to < 3) {
    const earlier = lineBefore(timeS, loadN, first, to - 1, noiseN, most)
    if (earlier.n < 3) break
    line = earlier
    to--
  }
  while (to < from) {
    const t = timeS[to + 1]!
    const off = Math.abs(loadN[to + 1]! - lineAt(line, t))
    if (off > 2.5 * Math.hypot(noiseN, lineStandardN(line, t, noiseN))) break
    to++
    line = lineBefore(timeS, loadN, first, to, noiseN, most)
  }
  return { line, to }
}

/** The drive's usual speed before a drop (exceeded by a tenth of the rises), and how often it changes. */
export function paceBefore(
  timeS: Float64Array,
  loadN: Float64Array,
  first: number,
  from: number,
  periodS: number,
): { paceNPerS: number; changesPerS: number } {
  const reach = Math.max(6, Math.ceil(PACE_S / periodS))
  const lag = Math.max(1, Math.round(0.15 / periodS))
  const start = Math.max(first, from - reach)
  const sorted = new Float64Array(Math.max(0, Math.floor((from - start) / lag)))
  for (let k = 0; k < sorted.length; k++) {
    const i = start + k * lag
    sorted[k] = (loadN[i + lag]! - loadN[i]!) / (timeS[i + lag]! - timeS[i]!)
  }
  sorted.sort()
  const pace = quantileSorted(sorted, 0.9) ?? 0
  const slow = quantileSorted(sorted, 0.25) ?? 0
  const unsteady = pace > 0 ? (pace - slow) / pace : 1
  return { paceNPerS: Math.max(pace, 0), changesPerS: Math.min(1.2, Math.max(0.2, 1.5 * unsteady)) }
}

/** The straight stretch that ends at sample `last`, no further back than `first`. */
export function lineBefore(
  timeS: Float64Array,
  loadN: Float64Array,
  first: number,
  last: number,
  noiseN: number,
  most = LINE_SAMPLES,
): Line {
  let from = Math.max(first, last - 1)
  let line = fitLine(timeS, loadN, from, last + 1)
  while (from > first && last - from + 1 < most) {
    const t = timeS[from - 1]!
    const off = Math.abs(loadN[from - 1]! - lineAt(line, t))
    if (off > STRAIGHT * Math.hypot(noiseN, lineStandardN(line, t, noiseN))) break
    from--
    line = fitLine(timeS, loadN, from, last + 1)
  }
  return line
}

/** The straight stretch that begins at sample `first`, no further than `last`. */
export function lineAfter(
  timeS: Float64Array,
  loadN: Float64Array,
  first: number,
  last: number,
  noiseN: number,
  most = LINE_SAMPLES,
): Line {
  let to = Math.min(last, first + 1)
  let line = fitLine(timeS, loadN, first, to + 1)
  while (to < last && to - first + 1 < most) {
    const t = timeS[to + 1]!
    const off = Math.abs(loadN[to + 1]! - lineAt(line, t))
    if (off > STRAIGHT * Math.hypot(noiseN, lineStandardN(line, t, noiseN))) break
    to++
    line = fitLine(timeS, loadN, first, to + 1)
  }
  return line
}
