/** Samples kept. */
const KEPT = 64

export interface Ring {
  /** Samples added so far; the newest is `count − 1`, the oldest kept `count − 64`. */
  readonly count: number
  add(timeS: number, force: number): void
  time(sample: number): number
  force(sample: number): number
  readonly oldest: number
}

/** The last 64 samples, asked for by their number. */
export function keepRing(): Ring {
  const timeS = new Float64Array(KEPT)
  const force = new Float64Array(KEPT)
  let count = 0
  return {
    get count() {
      return count
    },
    get oldest() {
      return Math.max(0, count - KEPT)
    },
    add(atS, value) {
      timeS[count % KEPT] = atS
      force[count % KEPT] = value
      count++
    },
    time: sample => timeS[sample % KEPT]!,
    force: sample => force[sample % KEPT]!,
  }
}

/** Slope of the least-squares line through samples `from` to `to`, both included; 0 for fewer than two. */
export function slope(ring: Ring, from: number, to: number): number {
  const n = to - from + 1
  if (n < 2) return 0
  const t0 = ring.time(from)
  let st = 0
  let sf = 0
  let stt = 0
  let stf = 0
  for (let i = from; i <= to; i++) {
    const t = ring.time(i) - t0
    const f = ring.force(i)
    st += t
    sf += f
    stt += t * t
    stf += t * f
  }
  const spread = n * stt - st * st
  return spread > 0 ? (n * stf - st * sf) / spread : 0
}

/** Standard deviation of that slope, for white noise and even steps. */
export function slopeDoubt(ring: Ring, from: number, to: number, noise: number): number {
  const n = to - from + 1
  if (n < 3) return Number.POSITIVE_INFINITY
  const periodS = (ring.time(to) - ring.time(from)) / (n - 1)
  return (noise / Math.max(periodS, 1e-9)) * Math.sqrt(12 / (n * (n * n - 1)))
}
