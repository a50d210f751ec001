import type { Recording, Segment } from '../../core/recording.ts'
import { makeTimeBase, middleStep } from '../../logs/meaning/timeBase.ts'
import { smoothArrivals } from './smoothArrivals.ts'

export interface Arrived {
  readonly arrivalS: Float64Array
  readonly stampS: Float64Array
  readonly count: Float64Array
  readonly breaks: readonly number[]
}

export interface Placed {
  readonly timeS: Float64Array
  readonly timeFrom: Recording['timeFrom']
  readonly segments: readonly Pick<Segment, 'from' | 'to' | 'began' | 'shiftS'>[]
}

/**
 * Times from the device's clock: wrap-rounds undone, equal stamps spread, a stamp that alone falls out of
 * line set between its neighbours. A step back is a device that started anew: the time between, which its
 * clock does not know, is taken from the arrivals.
 */
export function byDevice(arrived: Arrived, tickS: number | null): Placed {
  const timeS = filled(withoutStrays(arrived.stampS))
  const own = timeS.slice()
  const restarts: number[] = []
  for (let i = 1; i < timeS.length; i++) if (timeS[i]! < timeS[i - 1]!) restarts.push(i)
  const counter = tickS === null ? counterOf(timeS, restarts) : { secondsInUnit: tickS, clock: false }
  const base = makeTimeBase(timeS, { name: 'line', ...counter, restarts, lineOf: sample => sample + 1 })
  // Every step back is given as a restart, so that none can be refused; a last sample alone after one stays
  // in.
  const segments = base.ok ? withLast(base.value.segments, timeS, own) : []
  return {
    timeS,
    timeFrom: counter.clock ? 'clock' : 'column',
    segments: spaced(timeS, segments, arrived.arrivalS),
  }
}

/** Counters that devices stamp with, by the second at which they begin again. */
const COUNTERS = [
  { endS: 2 ** 32 * 1e-3, secondsInUnit: 1e-3, clock: false },
  { endS: 2 ** 32 * 1e-6, secondsInUnit: 1e-6, clock: false },
  { endS: 2 ** 16 * 1e-3, secondsInUnit: 1e-3, clock: false },
  { endS: 86_400, secondsInUnit: 1, clock: true },
] as const

/**
 * Which counter it is, told from a step back that comes just at its end; a plain count of seconds where none
 * does.
 */
function counterOf(
  timeS: Float64Array,
  restarts: readonly number[],
): { secondsInUnit: number; clock: boolean } {
  for (const i of restarts) {
    const before = timeS[i - 1]!
    const found = COUNTERS.find(({ endS }) => before < endS && before > endS - 2 && timeS[i]! < 2)
    if (found) return found
  }
  return { secondsInUnit: 1, clock: false }
}

function withLast(segments: Placed['segments'], timeS: Float64Array, own: Float64Array): Placed['segments'] {
  const samples = timeS.length
  const to = segments.at(-1)?.to ?? 0
  if (to === samples) return segments
  const stepS = middleStep(timeS.subarray(0, to))
  timeS[to] = timeS[to - 1]! + stepS
  return [...segments, { from: to, to: samples, began: 'reset', shiftS: timeS[to]! - own[to]! }]
}

/** Sets each later segment as long after the one before as their arrivals lie apart. */
function spaced(
  timeS: Float64Array,
  segments: Placed['segments'],
  arrivalS: Float64Array,
): Placed['segments'] {
  let addedS = 0
  return segments.map((segment, s) => {
    if (s > 0) {
      const { from } = segment
      const placedS = timeS[from]! + addedS - timeS[from - 1]!
      const passedS = arrivalS[from]! - arrivalS[from - 1]!
      addedS += Math.max(0, passedS - placedS)
    }
    if (addedS > 0) for (let i = segment.from; i < segment.to; i++) timeS[i] = timeS[i]! + addedS
    return { ...segment, shiftS: segment.shiftS + addedS }
  })
}

/**
 * Stamps that alone stand before or after both neighbours, which themselves are in order: garbled on the way.
 */
function withoutStrays(stampS: Float64Array): Float64Array {
  const clean = stampS.slice()
  for (let i = 1; i + 1 < stampS.length; i++) {
    const before = clean[i - 1]!
    const here = stampS[i]!
    const after = stampS[i + 1]!
    if (after >= before && (here > after || here < before)) clean[i] = Number.NaN
  }
  return clean
}

/** Missing stamps set evenly between the nearest given ones; beyond the ends, at the middle step. */
function filled(stampS: Float64Array): Float64Array {
  if (!stampS.some(Number.isNaN)) return stampS
  const given: number[] = []
  for (let i = 0; i < stampS.length; i++) if (!Number.isNaN(stampS[i]!)) given.push(i)
  const steps = given
    .slice(1)
    .map((b, g) => (stampS[b]! - stampS[given[g]!]!) / (b - given[g]!))
    .filter(step => step > 0)
    .sort((a, b) => a - b)
  const stepS = steps[steps.length >> 1] ?? 0
  const whole = stampS.slice()
  const first = given[0] ?? 0
  const last = given.at(-1) ?? 0
  for (let i = 0; i < first; i++) whole[i] = stampS[first]! - (first - i) * stepS
  for (let g = 1; g < given.length; g++) {
    const a = given[g - 1]!
    const b = given[g]!
    for (let i = a + 1; i < b; i++) whole[i] = stampS[a]! + ((stampS[b]! - stampS[a]!) * (i - a)) / (b - a)
  }
  for (let i = last + 1; i < stampS.length; i++) whole[i] = stampS[last]! + (i - last) * stepS
  return whole
}

/** Arrivals are known no better; and whole microseconds pack small. */
const toMicroseconds = (timeS: number): number => Math.round(timeS * 1e6) / 1e6

/**
 * Times from the arrivals, from 0, on the computer's own steady clock: a break of the line leaves it running.
 */
export function byArrival({ arrivalS, count, breaks }: Arrived): Placed & { readonly rateHz: number } {
  const timeS = new Float64Array(arrivalS.length)
  const starts = [0, ...breaks]
  const rates: number[] = []
  const startS = arrivalS[0] ?? 0
  const segments = starts.map((from, s): Placed['segments'][number] => {
    const to = starts[s + 1] ?? arrivalS.length
    const smooth = smoothArrivals(arrivalS.subarray(from, to), count.subarray(from, to))
    if (smooth.rateHz > 0) rates.push(smooth.rateHz)
    const leastS = from === 0 ? 0 : timeS[from - 1]! + 1e-6
    const late = Math.max(0, leastS - (smooth.timeS[0]! - startS))
    for (let i = from; i < to; i++) timeS[i] = smooth.timeS[i - from]! - startS + late
    return { from, to, began: s === 0 ? 'start' : 'reset', shiftS: 0 }
  })
  const offset = timeS[0] ?? 0
  rates.sort((a, b) => a - b)
  return {
    timeS: timeS.map(t => toMicroseconds(t - offset)),
    timeFrom: 'clock',
    segments,
    rateHz: rates[rates.length >> 1] ?? 0,
  }
}

/**
 * Times counted from a rate that the operator gave; a segment after a break begins as much later as it
 * arrived.
 */
export function byRate({ arrivalS, count, breaks }: Arrived, rateHz: number): Placed {
  const starts = [0, ...breaks]
  const timeS = new Float64Array(arrivalS.length)
  const segments = starts.map((from, s): Placed['segments'][number] => {
    const to = starts[s + 1] ?? arrivalS.length
    const shiftS =
      from === 0 ? 0 : timeS[from - 1]! + Math.max(1 / rateHz, arrivalS[from]! - arrivalS[from - 1]!)
    for (let i = from; i < to; i++) timeS[i] = shiftS + (count[i]! - count[from]!) / rateHz
    return { from, to, began: s === 0 ? 'start' : 'reset', shiftS }
  })
  return { timeS, timeFrom: 'rate', segments }
}
