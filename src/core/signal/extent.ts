import { AT_ONCE } from './scan.ts'

/**
 * How far a series of finite numbers goes, and its steps: what is asked of a long record again and again, told by
 * going through it once. Of no values all limits are infinities, the wrong way round, and so are those of pairs where
 * there are not two.
 */
export interface Extent {
  readonly count: number
  readonly first: number
  readonly last: number
  /** Least and greatest value. */
  readonly low: number
  readonly high: number
  /** Least and greatest value that two in a row reach. */
  readonly steadyLow: number
  readonly steadyHigh: number
  /** Least and greatest step from one value to the next. */
  readonly leastStep: number
  readonly greatestStep: number
}

export const NO_EXTENT: Extent = {
  count: 0,
  first: Number.NaN,
  last: Number.NaN,
  low: Number.POSITIVE_INFINITY,
  high: Number.NEGATIVE_INFINITY,
  steadyLow: Number.POSITIVE_INFINITY,
  steadyHigh: Number.NEGATIVE_INFINITY,
  leastStep: Number.POSITIVE_INFINITY,
  greatestStep: Number.NEGATIVE_INFINITY,
}

/** Extent of a series whose values are not to change any more: as it was told, or found by going through it. */
export const extentOf = (values: Float64Array): Extent =>
  told.get(values) ?? extentIn(values, 0, values.length)

const told = new WeakMap<Float64Array, Extent>()

/** Tells the extent of a series that does not change any more to all who ask for it. */
export function tellExtent(values: Float64Array, extent: Extent): void {
  told.set(values, extent)
}

/** Extent of the values in [from, to). */
export function extentIn(values: Float64Array, from: number, to: number): Extent {
  let extent = NO_EXTENT
  for (let a = from; a < to; a += AT_ONCE)
    extent = joinedExtent(extent, shortExtent(values, a, Math.min(to, a + AT_ONCE)))
  return extent
}

function shortExtent(values: Float64Array, from: number, to: number): Extent {
  const first = values[from]!
  let low = first
  let high = first
  let steadyLow = Number.POSITIVE_INFINITY
  let steadyHigh = Number.NEGATIVE_INFINITY
  let leastStep = Number.POSITIVE_INFINITY
  let greatestStep = Number.NEGATIVE_INFINITY
  let before = first
  for (let i = from + 1; i < to; i++) {
    const value = values[i]!
    const step = value - before
    if (step < leastStep) leastStep = step
    if (step > greatestStep) greatestStep = step
    // What does not go beyond the steady values goes beyond no others, and few values do.
    if (value > steadyHigh) {
      if (value > high) high = value
      if (before > steadyHigh) steadyHigh = Math.min(before, value)
    }
    if (value < steadyLow) {
      if (value < low) low = value
      if (before < steadyLow) steadyLow = Math.max(before, value)
    }
    before = value
  }
  return {
    count: to - from,
    first,
    last: before,
    low,
    high,
    steadyLow,
    steadyHigh,
    leastStep,
    greatestStep,
  }
}

/** Extent of a series and of the one that follows it, as of one. */
export function joinedExtent(a: Extent, b: Extent): Extent {
  if (a.count === 0 || b.count === 0) return a.count === 0 ? b : a
  const step = b.first - a.last
  return {
    count: a.count + b.count,
    first: a.first,
    last: b.last,
    low: Math.min(a.low, b.low),
    high: Math.max(a.high, b.high),
    steadyLow: Math.min(a.steadyLow, b.steadyLow, Math.max(a.last, b.first)),
    steadyHigh: Math.max(a.steadyHigh, b.steadyHigh, Math.min(a.last, b.first)),
    leastStep: Math.min(a.leastStep, b.leastStep, step),
    greatestStep: Math.max(a.greatestStep, b.greatestStep, step),
  }
}
