import type { Thinned } from '../../core/signal/pyramid.ts'

/** Points that are kept, each the least and the greatest force of a run of samples: more than any screen shows. */
const MOST = 8_192
/** Longer than this, and than so many usual steps, without a sample is a hole in the record. */
const HOLE_S = 1
const HOLE_STEPS = 20

/**
 * A curve that grows for as long as it likes in bounded room: typed arrays that are made once. When they are full,
 * two neighbours become one, so that no extreme is ever lost.
 */
export interface GrowingCurve {
  readonly length: number
  readonly firstS: number | null
  readonly lastS: number | null
  /** Rises with every change. */
  readonly version: number
  /** Times must rise; those that are not later than the last are passed over. */
  add(timeS: ArrayLike<number>, lowN: ArrayLike<number>, highN?: ArrayLike<number>): void
  clear(): void
  /** Forgets what is older. What is left begins anew, so that what follows is kept as finely as at first. */
  forget(beforeS: number): void
  /**
   * Points for a drawing so wide, forces above `zeroN`: the least and the greatest of each pixel, NaN where data are
   * missing. A finer line looks the same, and takes twice the time of each frame.
   */
  slice(fromS: number, toS: number, pixels: number, zeroN: number): Thinned
  /** Each kept point in its order. */
  each(see: (atS: number, lowN: number, highN: number) => void): void
}

export function growingCurve(most = MOST): GrowingCurve {
  const time = new Float64Array(most)
  const low = new Float64Array(most)
  const high = new Float64Array(most)
  let n = 0
  let perPoint = 1
  let inPoint = 0
  let lastS = Number.NEGATIVE_INFINITY
  let version = 0
  /** Seconds and number of the steps that are no holes. */
  let stepsS = 0
  let steps = 0

  const halve = (): void => {
    n = n >> 1
    for (let i = 0; i < n; i++) {
      time[i] = time[2 * i]!
      low[i] = Math.min(low[2 * i]!, low[2 * i + 1]!)
      high[i] = Math.max(high[2 * i]!, high[2 * i + 1]!)
    }
    perPoint *= 2
  }
  const addOne = (atS: number, lowN: number, highN: number): void => {
    // A hole stays where it is: what comes after it is a point of its own.
    const stepS = atS - lastS
    const isHole = n > 0 && stepS > HOLE_S
    if (n > 0 && !isHole) {
      stepsS += stepS
      steps++
    }
    if (n === 0 || inPoint >= perPoint || isHole) {
      if (n === most) halve()
      time[n] = atS
      low[n] = lowN
      high[n] = highN
      n++
      inPoint = 1
    } else {
      low[n - 1] = Math.min(low[n - 1]!, lowN)
      high[n - 1] = Math.max(high[n - 1]!, highN)
      inPoint++
    }
    lastS = atS
  }

  return {
    get length() {
      return n
    },
    get firstS() {
      return n === 0 ? null : time[0]!
    },
    get lastS() {
      return n === 0 ? null : lastS
    },
    get version() {
      return version
    },
    add(timeS, lowN, highN = lowN) {
      for (let i = 0; i < timeS.length; i++)
        if (timeS[i]! > lastS && Number.isFinite(lowN[i]!)) addOne(timeS[i]!, lowN[i]!, highN[i]!)
      version++
    },
    clear() {
      n = 0
      perPoint = 1
      inPoint = 0
      lastS = Number.NEGATIVE_INFINITY
      version++
    },
    forget(beforeS) {
      const from = indexAtOrAfter(time, n, beforeS)
      if (from === 0 && perPoint === 1) return
      time.copyWithin(0, from, n)
      low.copyWithin(0, from, n)
      high.copyWithin(0, from, n)
      n -= from
      perPoint = 1
      inPoint = 1
      version++
    },
    slice(fromS, toS, pixels, zeroN) {
      const first = Math.max(0, indexAtOrAfter(time, n, fromS) - 1)
      const end = Math.min(n, indexAtOrAfter(time, n, toS) + 1)
      const step = Math.max(1, Math.ceil((end - first) / Math.max(1, pixels)))
      // Where each step is longer than that there are no holes, only few samples.
      const holeS =
        steps === 0 ? Number.POSITIVE_INFINITY : Math.max(HOLE_S, (HOLE_STEPS * perPoint * stepsS) / steps)
      const xs: number[] = []
      const ys: number[] = []
      for (let i = first; i < end; i += step) {
        let lowest = low[i]!
        let highest = high[i]!
        for (let k = i + 1; k < Math.min(end, i + step); k++) {
          lowest = Math.min(lowest, low[k]!)
          highest = Math.max(highest, high[k]!)
        }
        if (i > first && time[i]! - time[i - 1]! > holeS) {
          xs.push(time[i]!)
          ys.push(Number.NaN)
        }
        xs.push(time[i]!)
        ys.push(lowest - zeroN)
        if (highest !== lowest) {
          xs.push(time[i]!)
          ys.push(highest - zeroN)
        }
      }
      return { timeS: Float64Array.from(xs), value: Float64Array.from(ys) }
    },
    each(see) {
      for (let i = 0; i < n; i++) see(time[i]!, low[i]!, high[i]!)
    },
  }
}

function indexAtOrAfter(time: Float64Array, n: number, atS: number): number {
  let from = 0
  let to = n
  while (from < to) {
    const middle = (from + to) >> 1
    if (time[middle]! < atS) from = middle + 1
    else to = middle
  }
  return from
}
