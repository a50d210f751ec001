import type { Recording } from '../recording.ts'
import { quantileSorted } from '../signal/order.ts'

/** The clock of a record, as its time stamps tell it. */
export interface Clock {
  /** Time between two readings, lost ones left out; 0 where the record has no times of its own. */
  readonly periodS: number
  /** Standard deviation of the step from one reading to the next, lost readings left out. */
  readonly jitterS: number
  /** Readings that are missing, by the stamps. */
  readonly lost: number
  /** Steps in which some are missing: last reading before and first after. */
  readonly holes: readonly {
    readonly from: number
    readonly fromS: number
    readonly toS: number
    readonly lost: number
  }[]
  /** Place of each reading on an even clock, in periods from the start of its segment. */
  readonly place: Float64Array
  /** Steps that were looked at. */
  readonly steps: number
}

/** A reading that comes later than its due time by this share of the period has others missing before it. */
const LATE_SHARE = 0.6
/** Part of a stamp's error that the clock follows: stamps scatter, and converters run a little unevenly. */
const FOLLOWS = 0.3

/**
 * Period, jitter and holes of a record. The period is the mean of the steps near the median one; where readings come
 * in bunches (a median step far below the mean one) it is the mean of all steps, and nothing is called lost.
 */
export function clockOf({ timeS, segments, timeFrom }: Recording): Clock {
  const steps: number[] = []
  for (const { from, to } of segments)
    for (let i = from + 1; i < to; i++) steps.push(timeS[i]! - timeS[i - 1]!)
  const place = new Float64Array(timeS.length)
  const none = { jitterS: 0, lost: 0, holes: [], place, steps: steps.length }
  if (steps.length < 4) return { periodS: 0, ...none }
  const sorted = Float64Array.from(steps).sort()
  const middle = quantileSorted(sorted, 0.5)!
  const all = steps.reduce((sum, s) => sum + s, 0) / steps.length
  const inBunches = middle < 0.5 * all
  const near = sorted.filter(s => s > 0.5 * middle && s < 1.5 * middle)
  const periodS = inBunches ? all : near.reduce((sum, s) => sum + s, 0) / near.length
  if (timeFrom === 'rate' || inBunches) {
    for (const { from, to } of segments) for (let i = from; i < to; i++) place[i] = i - from
    return { periodS, ...none, jitterS: timeFrom === 'rate' ? 0 : sdAbout(steps, periodS) }
  }
  const holes: { from: number; fromS: number; toS: number; lost: number }[] = []
  const kept: number[] = []
  for (const { from, to } of segments) {
    let dueS = timeS[from]!
    for (let i = from + 1; i < to; i++) {
      dueS += periodS
      const lateS = timeS[i]! - dueS
      const missing = lateS > LATE_SHARE * periodS ? Math.max(1, Math.round(lateS / periodS)) : 0
      dueS += missing * periodS + FOLLOWS * (lateS - missing * periodS)
      place[i] = place[i - 1]! + 1 + missing
      if (missing > 0) holes.push({ from: i - 1, fromS: timeS[i - 1]!, toS: timeS[i]!, lost: missing })
      else kept.push(timeS[i]! - timeS[i - 1]!)
    }
  }
  return {
    periodS,
    jitterS: sdAbout(kept, periodS),
    lost: holes.reduce((sum, h) => sum + h.lost, 0),
    holes,
    place,
    steps: steps.length,
  }
}

const sdAbout = (values: readonly number[], mean: number): number =>
  Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / Math.max(1, values.length - 1))

/** Jumps of a channel that counts readings. */
export interface Counted {
  readonly lost: number
  readonly repeated: number
  readonly outOfOrder: number
}

/** What a channel of sequence numbers tells: one whose steps are nearly all +1; `null` where there is none. */
export function countedReadings({ channels, segments }: Recording): Counted | null {
  for (const { values } of channels) {
    let ones = 0
    let steps = 0
    let lost = 0
    let repeated = 0
    let outOfOrder = 0
    for (const { from, to } of segments) {
      for (let i = from + 1; i < to; i++) {
        const step = values[i]! - values[i - 1]!
        if (!Number.isInteger(step)) continue
        steps++
        if (step === 1) ones++
        else if (step === 0) repeated++
        else if (step > 1 && step < 1000) lost += step - 1
        // A number that starts again from 0 is no reading out of order.
        else if (step < 0 && step > -1000) outOfOrder++
      }
    }
    if (steps >= 50 && ones >= 0.8 * steps)
      return { lost: Math.max(0, lost - outOfOrder), repeated, outOfOrder }
  }
  return null
}
