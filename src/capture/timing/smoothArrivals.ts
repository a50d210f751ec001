/**
 * Width of the sliding line, in seconds and in samples: long against the jitter of a line, short against a
 * drifting clock.
 */
const WINDOW_S = 5
const WINDOW_LEAST = 33
const WINDOW_MOST = 4097
/**
 * A pause is a gap only if the samples after it do not catch up: lines and systems deliver late, never early.
 */
const GAP_LEAST_S = 0.25
const GAP_PERIODS = 5

export interface Smoothed {
  readonly timeS: Float64Array
  /** From the middle of the steps; 0 for fewer than two samples. */
  readonly rateHz: number
}

/**
 * When samples were taken, from when they arrived. A device sends at a steady rate, while a line delivers
 * late and in lumps: within each run without a gap, arrivals are fitted over the count of samples by a
 * straight line that slides along (least squares, arrivals far off the first fit drawn in to it for a
 * second), and each sample is set on it. `count` says which sample of the device each one is, so that lost
 * ones leave their room. Times rise strictly.
 */
export function smoothArrivals(arrivalS: Float64Array, count: Float64Array): Smoothed {
  const length = arrivalS.length
  const timeS = new Float64Array(length)
  if (length < 2) return { timeS: arrivalS.slice(), rateHz: 0 }
  const periodS = middlePeriod(arrivalS, count)
  const runs = runStarts(arrivalS, count, periodS)
  for (const [r, from] of runs.entries()) {
    const to = runs[r + 1] ?? length
    timeS.set(smoothRun(arrivalS.subarray(from, to), count.subarray(from, to), periodS), from)
  }
  const leastS = Math.max(periodS * 1e-3, 1e-9)
  for (let i = 1; i < length; i++) if (!(timeS[i]! > timeS[i - 1]!)) timeS[i] = timeS[i - 1]! + leastS
  return { timeS, rateHz: periodS > 0 ? 1 / periodS : 0 }
}

/** Middle of the mean periods over blocks, so that neither lumps nor gaps sway it. */
function middlePeriod(arrivalS: Float64Array, count: Float64Array): number {
  const length = arrivalS.length
  const block = Math.min(64, length - 1)
  const stride = Math.max(1, Math.floor((length - 1 - block) / 2000) || 1)
  const periods: number[] = []
  for (let i = 0; i + block < length; i += stride) {
    periods.push((arrivalS[i + block]! - arrivalS[i]!) / Math.max(1, count[i + block]! - count[i]!))
  }
  periods.sort((a, b) => a - b)
  return periods[periods.length >> 1] ?? 0
}

function runStarts(arrivalS: Float64Array, count: Float64Array, periodS: number): number[] {
  const starts = [0]
  const leastS = Math.max(GAP_LEAST_S, GAP_PERIODS * periodS)
  for (let i = 1; i < arrivalS.length; i++) {
    const pauseS = arrivalS[i]! - arrivalS[i - 1]! - (count[i]! - count[i - 1]! - 1) * periodS
    if (pauseS > leastS && isGap(arrivalS, count, i, periodS, leastS)) starts.push(i)
  }
  return starts
}

/**
 * Whether the samples from `i` on stay late by more than `leastS`, seen over a second or 64 samples of them.
 */
function isGap(
  arrivalS: Float64Array,
  count: Float64Array,
  i: number,
  periodS: number,
  leastS: number,
): boolean {
  const last = Math.min(arrivalS.length, i + Math.max(8, Math.ceil(1 / Math.max(periodS, 1 / 64))))
  for (let j = i; j < last; j++) {
    const expectedS = arrivalS[i - 1]! + (count[j]! - count[i - 1]!) * periodS
    if (arrivalS[j]! - expectedS < leastS / 2) return false
  }
  return true
}

function smoothRun(arrivalS: Float64Array, count: Float64Array, periodS: number): Float64Array {
  const half =
    (Math.min(WINDOW_MOST, Math.max(WINDOW_LEAST, Math.round(WINDOW_S / Math.max(periodS, 1e-9)))) - 1) >> 1
  const first = slidingLine(arrivalS, count, half)
  const offS = middleOf(first.map((t, i) => Math.abs(arrivalS[i]! - t)))
  const drawnIn = arrivalS.map((t, i) => first[i]! + Math.min(3 * offS, Math.max(-3 * offS, t - first[i]!)))
  return slidingLine(drawnIn, count, half)
}

/**
 * Straight line of least squares over the `half` samples on either side (fewer at the ends), at each sample.
 */
function slidingLine(y: Float64Array, x: Float64Array, half: number): Float64Array {
  const length = y.length
  const fitted = new Float64Array(length)
  let n = 0
  let sx = 0
  let sy = 0
  let sxx = 0
  let sxy = 0
  // Sums about a sample nearby keep their digits; they are made anew as often as the window has passed on.
  let origin = 0
  const add = (i: number, sign: 1 | -1): void => {
    const dx = x[i]! - x[origin]!
    const dy = y[i]! - y[origin]!
    n += sign
    sx += sign * dx
    sy += sign * dy
    sxx += sign * dx * dx
    sxy += sign * dx * dy
  }
  let from = 0
  let to = 0
  for (let i = 0; i < length; i++) {
    if (i - origin >= half) {
      origin = i
      n = sx = sy = sxx = sxy = 0
      for (let j = from; j < to; j++) add(j, 1)
    }
    while (to < Math.min(length, i + half + 1)) add(to++, 1)
    while (from < i - half) add(from++, -1)
    const spread = n * sxx - sx * sx
    const slope = spread > 0 ? (n * sxy - sx * sy) / spread : 0
    fitted[i] = y[origin]! + sy / n + slope * (x[i]! - x[origin]! - sx / n)
  }
  return fitted
}

function middleOf(values: Float64Array): number {
  const sorted = values.slice().sort()
  return sorted[sorted.length >> 1] ?? 0
}
