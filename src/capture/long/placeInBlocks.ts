import type { Recording, Segment } from '../../core/recording.ts'
import type { Rows } from '../gather.ts'
import type { PlacedBy } from '../recordingFacts.ts'
import { byDevice } from '../timing/place.ts'
import { smoothArrivals } from '../timing/smoothArrivals.ts'
import type { Survey } from './survey.ts'

type Span = Pick<Segment, 'from' | 'began' | 'shiftS'>

/**
 * Rows that stand in order, of which a part is to be placed now: the rest is there so that its ends are
 * placed as its middle.
 */
export interface Window extends Rows {
  /** Rows that are the first after a break. */
  readonly breaks: readonly number[]
  /** The part: [from, to). */
  readonly from: number
  readonly to: number
  /** Sample of the recording that the first row is. */
  readonly first: number
}

/**
 * Gives the rows of one part after the other their times; what follows from those before is kept in between.
 */
export interface Placer {
  /** Times of the part. They rise over what was placed before. */
  place(window: Window): Float64Array
  readonly spans: readonly Span[]
  readonly timeFrom: Recording['timeFrom']
  readonly by: PlacedBy
  /** As given, or the middle of those found; 0 where none is looked for. */
  readonly rateHz: number
}

export function placerOf({ header, columns, isStamped }: Survey): Placer {
  if (header.rateHz !== null) return byRate(header.rateHz)
  return isStamped ? byStamps(columns.stamps?.tickS ?? null) : byArrivals()
}

/** Least step between two samples where their own times do not tell one. */
const LEAST_STEP_S = 1e-6

/**
 * Lets the first times of a part rise over the last one before: two fits of one line differ by less than its
 * jitter.
 */
function risingOver(timeS: Float64Array, lastS: number): Float64Array {
  let before = lastS
  for (let i = 0; i < timeS.length && !(timeS[i]! > before); i++) {
    before += LEAST_STEP_S
    timeS[i] = before
  }
  return timeS
}

/** As `byRate` of a recording that is held whole. */
function byRate(rateHz: number): Placer {
  const spans: Span[] = []
  let startCount = 0
  let shiftS = 0
  let lastS = 0
  let lastArrivalS = 0
  return {
    spans,
    timeFrom: 'rate',
    by: 'rate',
    rateHz,
    place({ count, arrivalS, breaks, from, to, first }) {
      const begins = new Set(breaks)
      const timeS = new Float64Array(to - from)
      for (let i = from; i < to; i++) {
        if (first + i === 0 || begins.has(i)) {
          if (first + i > 0) shiftS = lastS + Math.max(1 / rateHz, arrivalS[i]! - lastArrivalS)
          startCount = count[i]!
          spans.push({ from: first + i, began: first + i === 0 ? 'start' : 'reset', shiftS })
        }
        lastS = shiftS + (count[i]! - startCount) / rateHz
        lastArrivalS = arrivalS[i]!
        timeS[i - from] = lastS
      }
      return timeS
    },
  }
}

const toMicroseconds = (timeS: number): number => Math.round(timeS * 1e6) / 1e6

/**
 * By the device's clock: each window by itself, set behind the one before by the sample that both have
 * placed.
 */
function byStamps(tickS: number | null): Placer {
  const spans: Span[] = []
  let timeFrom: Recording['timeFrom'] = 'column'
  let lastS = Number.NEGATIVE_INFINITY
  return {
    spans,
    get timeFrom() {
      return timeFrom
    },
    by: 'device',
    rateHz: 0,
    place(window) {
      const { from, to, first } = window
      const placed = byDevice(window, tickS)
      if (placed.timeFrom === 'clock') timeFrom = 'clock'
      const behindS = from === 0 ? 0 : lastS - placed.timeS[from - 1]!
      // Without wraps and resets nothing is added, and the device's decimals stay what they are.
      const addedS = Math.abs(behindS) < 1e-9 ? 0 : toMicroseconds(behindS)
      const timeS = placed.timeS.slice(from, to)
      if (addedS !== 0) for (let i = 0; i < timeS.length; i++) timeS[i] = timeS[i]! + addedS
      for (const segment of placed.segments)
        if (segment.from >= from && segment.from < to)
          spans.push({
            from: first + segment.from,
            began: first + segment.from === 0 ? 'start' : 'reset',
            shiftS: segment.shiftS + addedS,
          })
      if (first === 0 && spans.length === 0) spans.push({ from: 0, began: 'start', shiftS: 0 })
      risingOver(timeS, lastS)
      lastS = timeS.at(-1) ?? lastS
      return timeS
    },
  }
}

/** By the arrivals, smoothed; times count from the first. */
function byArrivals(): Placer {
  const spans: Span[] = []
  const rates: number[] = []
  let startS: number | null = null
  let offsetS: number | null = null
  /** What the segment that goes on was set later by. */
  let late = 0
  let lastRawS = 0
  let lastS = Number.NEGATIVE_INFINITY
  return {
    spans,
    timeFrom: 'clock',
    by: 'arrival',
    get rateHz() {
      return rates.toSorted((a, b) => a - b)[rates.length >> 1] ?? 0
    },
    place({ arrivalS, count, breaks, from, to, first }) {
      startS ??= arrivalS[0]!
      const timeS = new Float64Array(to - from)
      const starts = [0, ...breaks]
      for (const [s, begin] of starts.entries()) {
        const end = starts[s + 1] ?? arrivalS.length
        if (end <= from || begin >= to) continue
        const smooth = smoothArrivals(arrivalS.subarray(begin, end), count.subarray(begin, end))
        if (smooth.rateHz > 0) rates.push(smooth.rateHz)
        const isNew = begin >= from
        if (isNew) {
          const leastS = first + begin === 0 ? 0 : lastRawS + LEAST_STEP_S
          late = Math.max(0, leastS - (smooth.timeS[0]! - startS))
          spans.push({
            from: first + begin,
            began: first + begin === 0 ? 'start' : 'reset',
            shiftS: 0,
          })
        }
        for (let i = Math.max(begin, from); i < Math.min(end, to); i++) {
          lastRawS = smooth.timeS[i - begin]! - startS + late
          offsetS ??= lastRawS
          timeS[i - from] = toMicroseconds(lastRawS - offsetS)
        }
      }
      risingOver(timeS, lastS)
      lastS = timeS.at(-1) ?? lastS
      return timeS
    },
  }
}
