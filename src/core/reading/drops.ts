import { fitLine, type Line, lineAt, lineStandardN } from '../signal/line.ts'
import type { PullSpan } from './pulls.ts'

/** A quick fall of the force inside a pull, or at its end. */
export interface Drop {
  /** Index of the pull it lies in. */
  readonly pull: number
  /** Last sample before, first sample after the fall. */
  readonly from: number
  readonly to: number
  /** When the force fell, on the record's time axis. */
  readonly atS: number
  /** Force just before and just after, with standard uncertainties. */
  readonly beforeN: number
  readonly beforeStandardN: number
  readonly afterN: number
  readonly afterStandardN: number
  /** Straight lines through the samples before and after; `null` where there is one sample only. */
  readonly before: Line
  readonly after: Line
  /** No force is left. */
  readonly leavesNothing: boolean
  /** Fall over the least fall that counts, at least 1. */
  readonly clearness: number
}

export interface DropOptions {
  readonly noiseN: number
  readonly quantumN: number
  readonly periodS: number
  readonly greatestN: number
  readonly thresholdN: number
  readonly sensitivity: number
}

/** Samples that a line before or after a drop may use, at most. */
const LINE_SAMPLES = 12

/** Falls that are too quick for an unload by hand: see the functions below for what counts. */
export function findDrops(
  timeS: Float64Array,
  loadN: Float64Array,
  pulls: readonly PullSpan[],
  segments: readonly { readonly from: number; readonly to: number }[],
  options: DropOptions,
): Drop[] {
  return pulls.flatMap((pull, index) => {
    const segment = segments.find(s => pull.from >= s.from && pull.from < s.to)!
    const from = pull.from
    const to = Math.min(segment.to, pull.to + 5)
    const falls = fallsIn(loadN, from, to, options)
    const quick = quickFalls(loadN, from, to, falls, options)
    return measured(timeS, loadN, from, to, quick, index, options)
  })
}

interface Fall {
  readonly from: number
  readonly to: number
}

/** Least fall between two neighbouring samples that noise and display step do not explain. */
const leastStepN = ({ noiseN, quantumN, sensitivity }: DropOptions): number =>
  Math.max(4.2 * noiseN, 1.6 * quantumN) / sensitivity

/** Least fall that counts as a drop. */
const leastDropN = ({ noiseN, quantumN, greatestN, sensitivity }: DropOptions): number =>
  Math.max(7 * noiseN, 3.2 * quantumN, 0.008 * greatestN) / sensitivity

/** Maximal runs of samples, each lower than the one before by more than noise. */
function fallsIn(loadN: Float64Array, from: number, to: number, options: DropOptions): Fall[] {
  const leastStep = leastStepN(options)
  const leastDrop = leastDropN(options)
  const found: Fall[] = []
  for (let i = from + 1; i < to; i++) {
    if (loadN[i]! - loadN[i - 1]! >= -leastStep) continue
    const a = i - 1
    while (i < to && loadN[i]! - loadN[i - 1]! < -leastStep) i++
    if (loadN[a]! - loadN[i - 1]! >= leastDrop) found.push({ from: a, to: i - 1 })
  }
  return found
}

/**
 * Leaves out ramps. A ramp falls evenly over three steps or more, no faster than one and a half times the fastest
 * loading (an unload by hand, a pull-out that softens); what breaks falls faster or unevenly. Falls as quick as the
 * others of a long even descent belong to it.
 */
function quickFalls(
  loadN: Float64Array,
  from: number,
  to: number,
  falls: readonly Fall[],
  options: DropOptions,
): Fall[] {
  const rise = fastestRise(loadN, from, to)
  const ramps = falls.filter(fall => isRamp(loadN, fall, rise))
  let descent = 0
  for (const { from: a, to: b } of ramps) descent += loadN[a]! - loadN[b]!
  const all = falls.reduce((sum, { from: a, to: b }) => sum + loadN[a]! - loadN[b]!, 0)
  let rampStep = 0
  for (const { from: a, to: b } of ramps) rampStep = Math.max(rampStep, steepest(loadN, a, b))
  const even = ramps.length >= 3 || descent > 0.5 * all
  return falls
    .filter(fall => !ramps.includes(fall))
    .filter(({ from: a, to: b }) => !even || steepest(loadN, a, b) > 2 * rampStep + leastStepN(options))
}

function isRamp(loadN: Float64Array, { from, to }: Fall, rise: number): boolean {
  const steps = to - from
  if (steps < 3) return false
  const most = steepest(loadN, from, to)
  if (most > 1.5 * rise) return false
  const mean = (loadN[from]! - loadN[to]!) / steps
  return most < 1.8 * mean
}

function steepest(loadN: Float64Array, from: number, to: number): number {
  let most = 0
  for (let i = from + 1; i <= to; i++) most = Math.max(most, loadN[i - 1]! - loadN[i]!)
  return most
}

/** Third-greatest rise between two neighbouring samples of the pull. */
function fastestRise(loadN: Float64Array, from: number, to: number): number {
  const top = [0, 0, 0]
  for (let i = from + 1; i < to; i++) {
    const step = loadN[i]! - loadN[i - 1]!
    if (step > top[2]!) {
      top[2] = step
      top.sort((a, b) => b - a)
    }
  }
  return top[2]!
}

function measured(
  timeS: Float64Array,
  loadN: Float64Array,
  from: number,
  to: number,
  falls: readonly Fall[],
  pull: number,
  options: DropOptions,
): Drop[] {
  const { noiseN, quantumN, periodS, thresholdN } = options
  const reading = Math.hypot(noiseN, quantumN / 6)
  return falls.map((fall, k) => {
    const previous = falls[k - 1]
    const next = falls[k + 1]
    const before = lineBefore(timeS, loadN, previous ? previous.to : from, fall.from, reading)
    const after = lineAfter(timeS, loadN, fall.to, next ? next.from : to - 1, reading)
    const atS = instantOf(timeS, loadN, fall, before, after, periodS)
    const leavesNothing = loadN[fall.to]! <= thresholdN
    const beforeN = Math.max(lineAt(before, atS), loadN[fall.from]! - 2 * reading)
    const afterN = leavesNothing ? Math.min(thresholdN, Math.max(0, lineAt(after, atS))) : lineAt(after, atS)
    const dropN = beforeN - afterN
    return {
      pull,
      from: fall.from,
      to: fall.to,
      atS,
      beforeN,
      beforeStandardN: lineStandardN(before, atS, reading),
      afterN,
      afterStandardN: lineStandardN(after, atS, reading),
      before,
      after,
      leavesNothing,
      clearness: Math.max(1, dropN / leastDropN(options)),
    }
  })
}

/** The straight stretch that ends at sample `last`, no further back than `first`. */
function lineBefore(
  timeS: Float64Array,
  loadN: Float64Array,
  first: number,
  last: number,
  noiseN: number,
): Line {
  let from = Math.max(first, last - 1)
  let line = fitLine(timeS, loadN, from, last + 1)
  while (from > first && last - from + 1 < LINE_SAMPLES) {
    const t = timeS[from - 1]!
    const off = Math.abs(loadN[from - 1]! - lineAt(line, t))
    if (off > 3 * Math.hypot(noiseN, lineStandardN(line, t, noiseN))) break
    from--
    line = fitLine(timeS, loadN, from, last + 1)
  }
  return line
}

/** The straight stretch that begins at sample `first`, no further than `last`. */
function lineAfter(
  timeS: Float64Array,
  loadN: Float64Array,
  first: number,
  last: number,
  noiseN: number,
): Line {
  let to = Math.min(last, first + 1)
  let line = fitLine(timeS, loadN, first, to + 1)
  while (to < last && to - first + 1 < LINE_SAMPLES) {
    const t = timeS[to + 1]!
    const off = Math.abs(loadN[to + 1]! - lineAt(line, t))
    if (off > 3 * Math.hypot(noiseN, lineStandardN(line, t, noiseN))) break
    to++
    line = fitLine(timeS, loadN, first, to + 1)
  }
  return line
}

/**
 * When the force fell: half a period after the last sample before, and later by as much of each sample in transition
 * as still belongs to the force before. Exact for a converter that averages over whole periods, whatever its delay,
 * when the lines before and after are read on the same time axis; right on average for one that does not.
 */
function instantOf(
  timeS: Float64Array,
  loadN: Float64Array,
  { from, to }: Fall,
  before: Line,
  after: Line,
  periodS: number,
): number {
  let atS = timeS[from]! + periodS / 2
  for (let i = from + 1; i < to; i++) {
    const high = lineAt(before, timeS[i]!)
    const low = lineAt(after, timeS[i]!)
    const share = high > low ? (loadN[i]! - low) / (high - low) : 0
    atS += Math.min(1, Math.max(0, share)) * (timeS[i]! - timeS[i - 1]!)
  }
  return Math.min(atS, timeS[to]!)
}
