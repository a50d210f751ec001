import { fitLine, type Line, lineAt, lineStandardN } from '../signal/line.ts'
import { quantileSorted } from '../signal/order.ts'
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
/** Samples after a pull's end in which its last drop may still end. */
const AFTER_SAMPLES = 6
/** Steps that a single drop takes at most, with a converter that averages over five readings. */
const WIDEST_DROP = 6

/**
 * Drops of a record, in order. A drop is a run of samples, each lower than the one before, that falls too quickly
 * and too unevenly for an unload by hand or a pull-out that softens.
 */
export function findDrops(
  timeS: Float64Array,
  loadN: Float64Array,
  pulls: readonly PullSpan[],
  segments: readonly { readonly from: number; readonly to: number }[],
  options: DropOptions,
): Drop[] {
  const spans = pulls.map(pull => {
    const segment = segments.find(s => pull.from >= s.from && pull.from < s.to)!
    const to = Math.min(segment.to, pull.to + AFTER_SAMPLES)
    return { from: pull.from, to, falls: fallsIn(loadN, pull.from, to, options) }
  })
  const narrowest = narrowestDrop(
    loadN,
    spans.flatMap(s => s.falls),
    options,
  )
  return spans.flatMap(({ from, to, falls }, index) => {
    const rise = fastestRise(loadN, from, to)
    const quick = outsideDescent(
      loadN,
      from,
      to,
      falls.filter(fall => !isRamp(loadN, fall, rise, narrowest)),
      options,
    )
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
 * Steps over which the narrowest clear fall of the record goes: 1 or 2, or more where the converter averages over
 * several readings. Chains of breaks and unloads are only wider.
 */
function narrowestDrop(loadN: Float64Array, falls: readonly Fall[], options: DropOptions): number {
  let narrowest = WIDEST_DROP
  for (const { from, to } of falls) {
    if (loadN[from]! - loadN[to]! > 4 * leastDropN(options)) narrowest = Math.min(narrowest, to - from)
  }
  return narrowest
}

/**
 * A ramp falls evenly: over more steps than a drop can take, or over three and more when it is no faster than one and
 * a half times the fastest loading.
 */
function isRamp(loadN: Float64Array, { from, to }: Fall, rise: number, narrowest: number): boolean {
  const steps = to - from
  if (steps < 3) return false
  const most = steepest(loadN, from, to)
  const falls = Array.from({ length: steps }, (_, k) => loadN[from + k]! - loadN[from + k + 1]!).sort(
    (a, b) => a - b,
  )
  const typical = falls[steps >> 1]!
  if (steps >= Math.max(5, narrowest + 3)) return most < 2.2 * typical
  return steps > narrowest && most < 1.5 * rise && most < 1.8 * ((loadN[from]! - loadN[to]!) / steps)
}

/**
 * Where most of the way down from the peak is gradual, the specimen softens (or is unloaded), and its descent has a
 * pace of its own: what falls less than about twice as fast as the quicker tenth of it is no drop.
 */
function outsideDescent(
  loadN: Float64Array,
  from: number,
  to: number,
  falls: readonly Fall[],
  options: DropOptions,
): readonly Fall[] {
  let top = from
  for (let i = from; i < to; i++) if (loadN[i]! > loadN[top]!) top = i
  const after = falls.filter(fall => fall.to > top)
  const quick = after.reduce((sum, fall) => sum + loadN[fall.from]! - loadN[fall.to]!, 0)
  if (loadN[top]! - loadN[to - 1]! - quick < 0.5 * loadN[top]!) return falls
  const paces: number[] = []
  for (let i = top + 1; i < to; i++) {
    const step = loadN[i - 1]! - loadN[i]!
    if (step > 0 && !after.some(fall => i > fall.from && i <= fall.to)) paces.push(step)
  }
  const pace = quantileSorted(Float64Array.from(paces).sort(), 0.9) ?? 0
  const least = 2.2 * pace + leastStepN(options)
  return falls.filter(fall => fall.to <= top || steepest(loadN, fall.from, fall.to) > least)
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
  return falls.flatMap((fall, k) => {
    const previous = falls[k - 1]
    const next = falls[k + 1]
    const before = lineBefore(timeS, loadN, previous ? previous.to : from, fall.from, reading)
    const after = lineAfter(timeS, loadN, fall.to, next ? next.from : to - 1, reading)
    const atS = instantOf(timeS, loadN, fall, before, after, periodS)
    const leavesNothing = loadN[fall.to]! <= thresholdN
    const beforeN = Math.max(lineAt(before, atS), loadN[fall.from]! - 2 * reading)
    const afterN = leavesNothing ? Math.min(thresholdN, Math.max(0, lineAt(after, atS))) : lineAt(after, atS)
    const dropN = beforeN - afterN
    // What falls no faster than the lines beside it belongs to a descent.
    const descent = Math.max(0, -before.slopeNPerS, -after.slopeNPerS) * (timeS[fall.to]! - timeS[fall.from]!)
    if (dropN < leastDropN(options) || loadN[fall.from]! - loadN[fall.to]! < 2.2 * descent) return []
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
