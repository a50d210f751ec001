/** Pull of one arrival on the time, and on the period, once the first ones have been seen. */
const TIME_GAIN = 0.05
const PERIOD_GAIN = 0.002
const FIRST_SAMPLES = 20
/** An arrival so far off what was expected is a gap or a stall, not jitter. */
const SNAP_S = 0.5

export interface LiveClock {
  /** Time of a sample on the session's axis, rising strictly. Provisional where arrivals are all there is. */
  next(arrivedS: number, stampS: number | null): number
  /** The device or the line began anew. */
  breakOff(): void
  /** Mean step between the last samples; `null` for too few. */
  readonly periodS: number | null
}

/**
 * Times of samples while they come. The device's own, set on the session's axis at its first stamp; else
 * arrivals, drawn towards an even beat, for lines deliver in lumps. The recording's times are made anew, from
 * all samples, when it ends.
 */
export function liveClock(): LiveClock {
  let lastS = Number.NEGATIVE_INFINITY
  let periodS = 0
  let count = 0
  let firstArrivedS = 0
  let offsetS: number | null = null

  const after = (timeS: number): number => (timeS > lastS ? timeS : lastS + Math.max(1e-6, periodS * 1e-3))
  const byStamp = (arrivedS: number, stampS: number): number => {
    if (offsetS === null) offsetS = Math.max(arrivedS, lastS + periodS) - stampS
    // A step back is a wrap-round or a reset: the new count goes on where the old one was.
    else if (stampS + offsetS < lastS - 1e-9) offsetS = lastS + Math.max(periodS, 1e-6) - stampS
    return stampS + offsetS
  }
  const byBeat = (arrivedS: number): number => {
    if (count < 2 || !(lastS > Number.NEGATIVE_INFINITY)) return arrivedS
    const expectedS = lastS + periodS
    const off = arrivedS - expectedS
    if (Math.abs(off) > SNAP_S) return arrivedS
    return expectedS + TIME_GAIN * off
  }
  return {
    next(arrivedS, stampS) {
      const timeS = after(stampS === null ? byBeat(arrivedS) : byStamp(arrivedS, stampS))
      if (count === 0) firstArrivedS = arrivedS
      const stepS = timeS - lastS
      if (stampS === null && count > 0 && count < FIRST_SAMPLES) periodS = (arrivedS - firstArrivedS) / count
      else if (stampS === null && count > 0) {
        const off = arrivedS - (lastS + periodS)
        if (Math.abs(off) <= SNAP_S) periodS = Math.max(0, periodS + PERIOD_GAIN * off)
      } else if (count > 0 && stepS < SNAP_S + 10 * periodS) {
        periodS += (stepS - periodS) / Math.min(count, FIRST_SAMPLES)
      }
      count++
      lastS = timeS
      return timeS
    },
    breakOff() {
      offsetS = null
      count = 0
    },
    get periodS() {
      return count > 2 && periodS > 0 ? periodS : null
    },
  }
}
