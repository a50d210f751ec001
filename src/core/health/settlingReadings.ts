import { median } from '../signal/order.ts'
import { correlationAt, type Residual, spreadOf } from './residual.ts'

/** Readings that a sudden change of the force takes to arrive. */
export interface Settled {
  readonly readings: number
  /** First reading of each tap or drop that told it. */
  readonly at: readonly number[]
}

/** A tap must stand out by so many noise sd or display steps. */
const LEAST_NOISE = 12
const LEAST_STEPS = 8
/** Part of a change that is not settled yet. */
const UNSETTLED = 0.02
/**
 * Readings that lie this near the greatest of a tap are on one flat top: the converter takes a plain mean.
 */
const FLAT = 0.85

/**
 * Settling from taps and drops. A tap is shorter than a reading, so that it shows in as many readings as the
 * converter averages: for a plain mean the sum over the greatest, else the readings that it touches. A drop
 * leaves another level, and the readings between the two are counted. The median of those that touch three
 * readings or more counts where there are two of them: what touches fewer may as well be a glitch. Else the
 * converter settles at once.
 */
export function settlingFromTaps(
  forceN: Float64Array,
  { noiseN, stepN }: { noiseN: number; stepN: number },
): Settled | null {
  const level = median(forceN)
  if (level === null) return null
  const least = Math.max(LEAST_NOISE * noiseN, LEAST_STEPS * stepN)
  const found: { readings: number; at: number }[] = []
  let i = 1
  let base = level
  while (i < forceN.length - 1) {
    if (Math.abs(forceN[i]! - base) <= least) {
      i++
      continue
    }
    const change = changeAt(forceN, i, base, { noiseN, stepN })
    found.push({ readings: change.readings, at: change.from })
    base = change.baseN
    i = change.to + 1
  }
  if (found.length < 2) return null
  const broad = found.filter(f => f.readings > 2)
  const told = broad.length >= 2 ? broad : found
  return { readings: median(told.map(f => f.readings))!, at: told.map(f => f.at) }
}

/** How long after a change its outcome is looked at. */
const AFTER_READINGS = 12

function changeAt(
  forceN: Float64Array,
  at: number,
  baseN: number,
  { noiseN, stepN }: { noiseN: number; stepN: number },
): { from: number; to: number; baseN: number; readings: number } {
  const after = forceN.subarray(at + AFTER_READINGS, at + 2 * AFTER_READINGS)
  const laterN = median(after) ?? baseN
  const isDrop = Math.abs(laterN - baseN) > Math.max(LEAST_NOISE * noiseN, LEAST_STEPS * stepN)
  const side = Math.sign(forceN[at]! - baseN)
  if (isDrop) {
    const height = laterN - baseN
    const edge = Math.max(UNSETTLED, (4 * noiseN + stepN) / Math.abs(height))
    let to = at
    let between = 0
    while (to < at + AFTER_READINGS && to < forceN.length) {
      const share = (forceN[to]! - baseN) / height
      if (share > edge && share < 1 - edge) between++
      if (share >= 1 - edge) break
      to++
    }
    return { from: at, to: to + 2, baseN: laterN, readings: Math.max(1, between) }
  }
  let top = at
  for (let k = at; k < at + AFTER_READINGS && k < forceN.length; k++)
    if (side * (forceN[k]! - baseN) > side * (forceN[top]! - baseN)) top = k
  const height = side * (forceN[top]! - baseN)
  const edge = Math.max(UNSETTLED * height, 4 * noiseN + stepN)
  let from = top
  while (from > 0 && side * (forceN[from - 1]! - baseN) > edge) from--
  let to = top
  while (to < forceN.length - 1 && side * (forceN[to + 1]! - baseN) > edge) to++
  let sum = 0
  let flat = 0
  for (let k = from; k <= to; k++) {
    const share = (side * (forceN[k]! - baseN)) / height
    sum += share
    if (share > FLAT) flat++
  }
  const touched = to - from + 1
  const readings = touched <= 2 ? 1 : flat >= touched - 2 ? sum : touched
  // A rig that rings swings to the other side as well: what follows is the same tap.
  let end = to
  while (end < forceN.length - 1 && Math.abs(forceN[end + 1]! - baseN) > edge) end++
  return { from, to: end, baseN, readings }
}

const MOST_AVERAGED = 32
const MOST_SPREADS = 5
/** Neighbours of a plain mean of two share half of what made them. */
const LEAST_CORRELATION = 0.4
const OFF = 0.12

/**
 * Readings that a running mean takes in, by the noise alone: readings k apart share 1 − k/n of it, and none
 * from n on (autocovariance of a moving average with equal weights). `null` where the noise is white, or no
 * such mean fits.
 */
export function averagedFromNoise(raw: Residual): number | null {
  const n = raw.valueN.length
  // A wild reading that nobody found would speak louder than all noise.
  const limit = MOST_SPREADS * spreadOf(raw.valueN)
  const residual = { ...raw, valueN: raw.valueN.map(v => Math.max(-limit, Math.min(limit, v))) }
  if (n < 400 || correlationAt(residual, 1) < LEAST_CORRELATION) return null
  const correlations = Array.from({ length: 2 * MOST_AVERAGED }, (_, k) => correlationAt(residual, k + 1))
  let best: { readings: number; off: number } | null = null
  for (let readings = 2; readings <= MOST_AVERAGED; readings++) {
    let off = 0
    const lags = Math.min(2 * readings, correlations.length)
    for (let k = 1; k <= lags; k++) off += (correlations[k - 1]! - Math.max(0, 1 - k / readings)) ** 2 / lags
    if (best === null || off < best.off) best = { readings, off }
  }
  return best !== null && Math.sqrt(best.off) < OFF ? best.readings : null
}
