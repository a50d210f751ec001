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

/**
 * A reading that comes later than its due time by this share of the period may have others missing before
 * it.
 */
const LATE_SHARE = 0.4
/**
 * They are missing where those after it are as late, by this share of the period: a stamp that is only late
 * is alone.
 */
const STAYS_LATE_SHARE = 0.6
/** Share of the steps up to which some are holes in a steady clock. */
const MOST_HOLES_SHARE = 0.2
/** As far as a stamp may be early by itself, in periods. */
const OWN_JITTER = 0.25
/** Readings before and after, whose times tell what is due. */
const BEFORE = 3
const AFTER = 5

/**
 * Period, jitter and holes of a record. The period is the mean of the steps near the median one; where
 * readings come in bunches (a median step far below the mean one) it is the mean of all steps, and nothing
 * is called lost.
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
    /** How late a reading comes after those before it, in periods, were none missing up to it. */
    const late = (i: number, ahead: number): number => {
      const before: number[] = []
      for (let k = i - 1; k >= Math.max(from, i - BEFORE); k--)
        before.push((timeS[i + ahead]! - timeS[k]!) / periodS - (place[i - 1]! - place[k]! + 1 + ahead))
      return middleOf(before)
    }
    for (let i = from + 1; i < to; i++) {
      const own = late(i, 0)
      let missing = 0
      if (own > LATE_SHARE) {
        const all = Array.from({ length: Math.min(AFTER, to - i) }, (_, k) => late(i, k))
        const stays = middleOf(all)
        // Others may be missing among those after it: no more are than it is late itself.
        if (stays > STAYS_LATE_SHARE) missing = Math.max(1, Math.round(Math.min(stays, own + OWN_JITTER)))
      }
      place[i] = place[i - 1]! + 1 + missing
      if (missing > 0) holes.push({ from: i - 1, fromS: timeS[i - 1]!, toS: timeS[i]!, lost: missing })
      else kept.push(timeS[i]! - timeS[i - 1]!)
    }
  }
  // With so many holes it is no steady clock that lost some: its steps are uneven.
  if (holes.length > MOST_HOLES_SHARE * steps.length) {
    for (const { from, to } of segments) for (let i = from; i < to; i++) place[i] = i - from
    return { periodS: all, ...none, jitterS: sdAbout(steps, all) }
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

const middleOf = (values: number[]): number => {
  values.sort((a, b) => a - b)
  const half = values.length >> 1
  return values.length % 2 === 1 ? values[half]! : (values[half - 1]! + values[half]!) / 2
}

const sdAbout = (values: readonly number[], mean: number): number =>
  Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / Math.max(1, values.length - 1))

/** Jumps of a channel that counts readings. */
export interface Counted {
  readonly lost: number
  readonly repeated: number
  readonly outOfOrder: number
}

/**
 * What a channel of sequence numbers tells: one whose steps are nearly all +1; `null` where there is none.
 */
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
