/** Differences kept, and how often their middle is taken anew: the cost of a sample stays bounded. */
const KEPT = 65
const ANEW_AFTER = 16
/** Middle of |x| over the standard deviation of x, for normal noise. */
const MIDDLE_OF_NORMAL = 0.6745

export interface NoiseWatch {
  add(force: number): void
  /**
   * Standard deviation of one sample, from the middle of the last second differences; a ramp does not count
   * as noise.
   */
  readonly noise: number
  /** Step of the display: the least difference seen; 0 until there is one. */
  readonly quantum: number
}

/**
 * Noise and display step of a running line. Second differences of white noise have √6 times its standard
 * deviation.
 */
export function watchNoise(): NoiseWatch {
  const kept = new Float64Array(KEPT)
  let count = 0
  let before = Number.NaN
  let beforeThat = Number.NaN
  let noise = 0
  let quantum = 0
  return {
    add(force) {
      const step = Math.abs(force - before)
      // Digits past the ninth are the float's, not the display's.
      if (step > 1e-9 * Math.max(1, Math.abs(force)) && (quantum === 0 || step < quantum)) quantum = step
      const second = Math.abs(force - 2 * before + beforeThat)
      if (!Number.isNaN(second)) {
        kept[count % KEPT] = second
        count++
        if (count % ANEW_AFTER === 0 || count === 8) {
          const sorted = kept.slice(0, Math.min(count, KEPT)).sort()
          noise = sorted[sorted.length >> 1]! / (MIDDLE_OF_NORMAL * Math.sqrt(6))
        }
      }
      beforeThat = before
      before = force
    },
    get noise() {
      return noise
    },
    get quantum() {
      return quantum
    },
  }
}
