import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { Assumption, Segment } from '../../core/recording.ts'
import { type Extent, extentOf } from '../../core/signal/extent.ts'
import { nextStep } from '../../core/signal/scan.ts'
import { settledBy } from '../options.ts'

/** One time base of a log: between two resets of the device. */
export type TimeSegment = Pick<Segment, 'from' | 'to' | 'began' | 'shiftS'>

export interface TimeBase {
  readonly segments: readonly TimeSegment[]
  readonly assumptions: readonly Assumption[]
  /** Middle of the steps between samples. */
  readonly stepS: number
  /** Times the counter or the clock passed its end. */
  readonly wraps: number
  /** So many samples at the very end follow a step back and are to be left out: rows of totals and means. */
  readonly leftOut: number
  /** Of the times as they now stand, without those left out. */
  readonly extent: Extent
}

export interface TimeSource {
  readonly name: string
  /** What a time step of the column is worth, for its wrap-round: 1 for seconds, 1e-3 for milliseconds. */
  readonly secondsInUnit: number
  /** Clock stamps without a date pass midnight. */
  readonly clock: boolean
  /** Samples before which the device said that it started anew. */
  readonly restarts: readonly number[]
  readonly lineOf: (sample: number) => number
}

const DAY_S = 86_400
/**
 * So many rows may end a log with its means, extremes and totals, and no more than this share of all, or one.
 */
const FOOTER_ROWS = 3
const FOOTER_SHARE = 0.05
/** A device that has just started stamps its first sample within this time. */
const START_UP_S = 5

/**
 * Makes times in seconds rise strictly within each segment and never fall over the whole, in place:
 * wrap-rounds are undone, equal stamps spread over the step they share, segments begun at resets. `extent` is
 * that of the times.
 */
export function makeTimeBase(
  timeS: Float64Array,
  source: TimeSource,
  extent: Extent = extentOf(timeS),
): Outcome<TimeBase> {
  const count = timeS.length
  const isRising = count < 2 || extent.leastStep > 0
  if (isRising && source.restarts.length === 0) return fine(plainBase(timeS, extent))
  const stepS = middleStep(timeS)
  const footer = Math.max(1, Math.min(FOOTER_ROWS, Math.floor(FOOTER_SHARE * count)))
  const starts: { from: number; shiftS: number }[] = [{ from: 0, shiftS: 0 }]
  const restarts = new Set(source.restarts)
  const greatestS = greatestOf(timeS)
  let addedS = 0
  let shiftS = 0
  let wraps = 0
  let ownBefore = timeS[0]!
  for (let i = 1; i < count; i++) {
    const own = timeS[i]!
    const back = own - ownBefore
    if (back < 0) {
      const wrapS =
        wrapRound(ownBefore, own, stepS, source) ||
        (restarts.has(i) ? 0 : partRound(ownBefore, own, greatestS, stepS, source))
      if (wrapS > 0) {
        addedS += wrapS
        wraps++
      } else if (i === count - 1 || (i >= count - footer && !restarts.has(i))) {
        return whole(timeS.subarray(0, i), ended(timeS, starts, stepS, wraps, i), count - i, source)
      } else if (restarts.has(i) || isReset(ownBefore, own, timeS[0]!, stepS)) {
        shiftS = timeS[i - 1]! + stepS - own
        addedS = 0
        starts.push({ from: i, shiftS })
      } else {
        return wrong(runsBack(source, i, ownBefore, own))
      }
    }
    timeS[i] = own + shiftS + addedS
    ownBefore = own
  }
  return whole(timeS, ended(timeS, starts, stepS, wraps, count), 0, source)
}

/** Gives the time base, unless times are so large or so close that they cannot be told apart. */
function whole(
  timeS: Float64Array,
  base: Omit<TimeBase, 'leftOut' | 'extent'>,
  leftOut: number,
  source: TimeSource,
): Outcome<TimeBase> {
  const stuck = timeS.findIndex((s, i) => i > 0 && !(s > timeS[i - 1]!))
  if (stuck < 0) return fine({ ...base, leftOut, extent: extentOf(timeS) })
  return wrong({
    where: `${source.name}, line ${source.lineOf(stuck)}`,
    what: `the time ${shownTime(timeS[stuck]!)} cannot be told from the one before.`,
    cure: 'Mend the times near this line, name another column with --time, or give --rate.',
    fields: settledBy('time', 'rateHz'),
  })
}

const plainBase = (timeS: Float64Array, extent: Extent): TimeBase => ({
  segments: [{ from: 0, to: timeS.length, began: 'start', shiftS: 0 }],
  assumptions: [],
  stepS: middleStep(timeS),
  wraps: 0,
  leftOut: 0,
  extent,
})

function ended(
  timeS: Float64Array,
  starts: readonly { from: number; shiftS: number }[],
  stepS: number,
  wraps: number,
  count: number,
): Omit<TimeBase, 'leftOut' | 'extent'> {
  const segments = starts.map(
    ({ from, shiftS }, i): TimeSegment => ({
      from,
      to: starts[i + 1]?.from ?? count,
      began: i === 0 ? 'start' : 'reset',
      shiftS,
    }),
  )
  const spread = spreadEqual(timeS, segments, stepS)
  const assumptions: Assumption[] =
    spread === 0
      ? []
      : [
          {
            code: 'time-spread',
            text: `${spread} samples share their time stamp with the one before; they are spread evenly over the step they share.`,
          },
        ]
  return { segments, assumptions, stepS: middleStep(timeS.subarray(0, count)), wraps }
}

/**
 * A step of this many usual ones is a gap, unless one in fifty is as long: then long steps are how the log is
 * written.
 */
const GAP_STEPS = 1.75

/**
 * Mean step within segments, gaps left out: of stamps rounded more coarsely than the period, steps jump
 * between two roundings, and only their mean is the period. 0 where there is none. `extent` is that of the
 * times.
 */
export function meanStep(
  timeS: Float64Array,
  segments: readonly TimeSegment[],
  middleS: number,
  extent: Extent = extentOf(timeS),
): number {
  const gapS = Math.max(GAP_STEPS * middleS, 1.5 * longStep(timeS))
  let sumS = 0
  let count = 0
  for (const { from, to } of segments) {
    if (to - from < 2) continue
    sumS += timeS[to - 1]! - timeS[from]!
    count += to - from - 1
    if (extent.greatestStep <= gapS) continue
    const next = (i: number): number => nextStep(timeS, i, to, gapS, Number.POSITIVE_INFINITY)
    for (let i = next(from + 1); i < to; i = next(i + 1)) {
      sumS -= timeS[i]! - timeS[i - 1]!
      count--
    }
  }
  return count > 0 ? sumS / count : middleS
}

const longStep = (timeS: Float64Array): number => {
  const steps = sampledSteps(timeS)
  return steps.length < 50 ? 0 : steps[Math.floor(0.98 * (steps.length - 1))]!
}

/** Middle of the positive steps, from at most 2001 of them. */
export function middleStep(timeS: Float64Array): number {
  const steps = sampledSteps(timeS)
  return steps[steps.length >> 1] ?? 0
}

/** Positive steps, at most 2001 of them, sorted. */
function sampledSteps(timeS: Float64Array): Float64Array {
  const steps: number[] = []
  const stride = Math.max(1, Math.floor((timeS.length - 1) / 2001))
  for (let i = 1; i < timeS.length; i += stride) {
    const step = timeS[i]! - timeS[i - 1]!
    if (step > 0) steps.push(step)
  }
  return Float64Array.from(steps).sort()
}

/**
 * Seconds to add where a counter of 32 or 16 bits, a clock or a 12-hour clock began again; 0 where it did
 * not. What it adds must leave an ordinary step: over 32 bits or midnight a pause may lie, over 16 bits (a
 * minute of milliseconds) it may not, or a reset would be taken for it.
 */
function wrapRound(before: number, now: number, stepS: number, source: TimeSource): number {
  const pauseS = Math.max(20 * stepS, 2)
  const spans: readonly (readonly [spanS: number, stepAtMostS: number, from: number])[] = source.clock
    ? [
        [DAY_S, Math.max(pauseS, 3600), 0],
        // A 12-hour clock goes from 12:59 to 1:00.
        [DAY_S / 2, pauseS, 3600],
      ]
    : source.secondsInUnit < 1
      ? [
          [2 ** 32 * source.secondsInUnit, pauseS, 0],
          [2 ** 16 * source.secondsInUnit, 3 * stepS, 0],
        ]
      : []
  for (const [spanS, stepAtMostS, from] of spans) {
    if (before < spanS + from && now >= from && now + spanS - before <= stepAtMostS) return spanS
  }
  return 0
}

/**
 * Seconds to add where only a part of the time is logged and has run round: the seconds of the minute, the
 * minutes and seconds of the hour. No other time of the log may reach so far, and the step must be an
 * ordinary one.
 */
function partRound(
  before: number,
  now: number,
  greatestS: number,
  stepS: number,
  source: TimeSource,
): number {
  const roundS = source.clock ? 3600 : source.secondsInUnit === 1 ? 60 : 0
  return greatestS < roundS && now >= 0 && now + roundS - before <= 2 * stepS ? roundS : 0
}

const greatestOf = (timeS: Float64Array): number => {
  let greatest = Number.NEGATIVE_INFINITY
  for (let i = 0; i < timeS.length; i++) if (timeS[i]! > greatest) greatest = timeS[i]!
  return greatest
}

/** A time near the device's start, and less than half of what it was: it has been started anew. */
const isReset = (before: number, now: number, first: number, stepS: number): boolean =>
  now <= Math.max(START_UP_S, 20 * stepS, Math.abs(first)) && now >= 0 && (now <= before / 2 || now === first)

function runsBack(source: TimeSource, sample: number, before: number, now: number): Problem {
  return {
    where: `${source.name}, line ${source.lineOf(sample)}`,
    what: `the time runs back from ${shownTime(before)} to ${shownTime(now)} without a reset.`,
    cure: 'Put the rows in order or split the log there; or name another time with --time, or give --rate.',
    fields: settledBy('time', 'rateHz'),
  }
}

const shownTime = (s: number): string => `${Number(s.toPrecision(9))} s`

/**
 * Spreads each run of equal stamps evenly up to the next one, in place; gives how many samples were moved.
 */
function spreadEqual(timeS: Float64Array, segments: readonly TimeSegment[], stepS: number): number {
  let moved = 0
  for (const [s, { from, to }] of segments.entries()) {
    let start = from
    let widthS = 0
    let runBefore = 0
    for (let i = from + 1; i <= to; i++) {
      if (i < to && timeS[i] === timeS[start]) continue
      const run = i - start
      if (i < to) widthS = timeS[i]! - timeS[start]!
      if (run > 1) {
        // The last run has no next stamp in its segment: its steps are those of the run before, or, where it
        // is longer, share that run's width; and it ends before the next segment.
        const open = i === to
        const ceiling =
          open && s + 1 < segments.length
            ? timeS[segments[s + 1]!.from]! - timeS[start]!
            : Number.POSITIVE_INFINITY
        const alike = widthS > 0 ? widthS * Math.min(1, run / runBefore) : stepS * run || run
        const width = open ? Math.min(alike, ceiling) : widthS
        const at = timeS[start]!
        for (let k = 1; k < run; k++) timeS[start + k] = at + (k * width) / run
        moved += run - 1
      }
      runBefore = run
      start = i
    }
  }
  return moved
}
