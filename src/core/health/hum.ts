import type { Residual } from './residual.ts'

/** A hum as the readings show it. */
export interface Hum {
  /** Swing to either side, in N. */
  readonly amplitudeN: number
  /** Turns from one reading to the next, as it appears in them. */
  readonly turns: number
  /** The same in hertz. */
  readonly seenHz: number
  /** The mains that it comes from; `null` where both fold to the same place. */
  readonly mainsHz: 50 | 60 | null
}

const MAINS = [50, 60] as const
/** The mains stays within this of its frequency. */
const MAINS_WANDER_HZ = 0.2
/** Relative doubt of the rate. */
const RATE_DOUBT = 0.0005
const WINDOW_READINGS = 2048
const MOST_WINDOWS = 6
const LEAST_READINGS = 64
const LEAST_SEEN_HZ = 0.7
/** Ratio of a line to the spectrum beside it from which it is no chance, for one window. */
const ABOVE = 13
/** Bins to either side that tell what the spectrum is beside the line. */
const BESIDE = 40

/** Where a frequency appears when it is looked at `rateHz` times a second. */
export const foldedHz = (hz: number, rateHz: number): number =>
  Math.abs(hz - Math.round(hz / rateHz) * rateHz)

/**
 * The mains' hum in readings at rest, by a line in their spectrum where 50 or 60 Hz, or twice that, folds to
 * at this rate. The spectra of up to six windows are averaged; a line must stand above those beside it.
 */
export function findHum(residuals: readonly Residual[]): Hum | null {
  const windows = residuals.flatMap(windowsOf).sort((a, b) => b.valueN.length - a.valueN.length)
  const longest = windows[0]
  if (longest === undefined) return null
  const used = windows.filter(w => w.valueN.length >= 0.8 * longest.valueN.length).slice(0, MOST_WINDOWS)
  const { periodS } = longest
  const span = Math.min(...used.map(w => w.place.at(-1)! + 1))
  const bins = Math.floor(span / 2)
  const power = new Float64Array(bins)
  for (const w of used) for (let b = 3; b < bins; b++) power[b]! += amplitude2(w, b / span) / used.length
  const rateHz = 1 / periodS
  const perBinHz = rateHz / span
  const lines = MAINS.flatMap(mains =>
    [1, 2].flatMap(times => {
      const centreHz = foldedHz(mains * times, rateHz)
      // So slow a swing is not told from a drift or from a mass that sways.
      if (centreHz < LEAST_SEEN_HZ) return []
      const reachHz = times * (MAINS_WANDER_HZ + mains * RATE_DOUBT) + 1.5 * perBinHz
      const peak = highest(
        power,
        Math.ceil((centreHz - reachHz) / perBinHz),
        Math.floor((centreHz + reachHz) / perBinHz),
      )
      return peak === null ? [] : [{ mains, times, centreHz, peak }]
    }),
  )
  const above = 1 + ABOVE / Math.sqrt(used.length)
  const seen = lines
    .filter(({ peak }) => power[peak]! > above * floorBeside(power, peak))
    .sort((a, b) => power[b.peak]! - power[a.peak]! || a.times - b.times)
  const best = seen[0]
  if (best === undefined) return null
  const hz = best.peak * perBinHz
  // The other mains would show in the very same place.
  const rivals = seen.filter(l => l.mains !== best.mains && Math.abs(l.peak - best.peak) <= 2)
  const closest = [best, ...rivals].sort((a, b) => Math.abs(a.centreHz - hz) - Math.abs(b.centreHz - hz))
  const gapHz = closest.length > 1 ? Math.abs(closest[1]!.centreHz - closest[0]!.centreHz) : Infinity
  const fine = refined(used, best.peak / span, 1 / span)
  return {
    amplitudeN: Math.sqrt(fine.amplitude2),
    turns: fine.perReading,
    seenHz: fine.perReading * rateHz,
    mainsHz: gapHz > 2 * perBinHz + MAINS_WANDER_HZ ? closest[0]!.mains : null,
  }
}

function windowsOf({ place, valueN, periodS }: Residual): Residual[] {
  const windows: Residual[] = []
  const n = valueN.length
  if (n < LEAST_READINGS || !(periodS > 0)) return windows
  const parts = Math.max(1, Math.floor(n / WINDOW_READINGS))
  const size = Math.floor(n / parts)
  for (let k = 0; k < Math.min(parts, MOST_WINDOWS); k++) {
    const from = k * size
    const first = place[from]!
    const span = place[from + size - 1]! - first + 1
    // Where half of the readings are missing the spectrum is that of the holes.
    if (span > 2 * size) continue
    windows.push({
      place: place.slice(from, from + size).map(p => p - first),
      valueN: valueN.slice(from, from + size),
      periodS,
    })
  }
  return windows
}

/** Squared amplitude of the swing with so many turns a reading: (2/n)² |Σ x e^(−2πi f k)|². */
function amplitude2({ place, valueN }: Residual, turns: number): number {
  const n = valueN.length
  const stepRe = Math.cos(2 * Math.PI * turns)
  const stepIm = -Math.sin(2 * Math.PI * turns)
  let re = 0
  let im = 0
  let atRe = 1
  let atIm = 0
  let at = 0
  for (let i = 0; i < n; i++) {
    const to = place[i]!
    if (to - at > 4 || i % 512 === 0) {
      // Set anew: over a hole, and before rounding adds up.
      atRe = Math.cos(2 * Math.PI * turns * to)
      atIm = -Math.sin(2 * Math.PI * turns * to)
      at = to
    }
    for (; at < to; at++) {
      const next = atRe * stepRe - atIm * stepIm
      atIm = atRe * stepIm + atIm * stepRe
      atRe = next
    }
    re += valueN[i]! * atRe
    im += valueN[i]! * atIm
  }
  return (4 * (re * re + im * im)) / (n * n)
}

function highest(power: Float64Array, from: number, to: number): number | null {
  let best: number | null = null
  for (let b = Math.max(4, from); b <= Math.min(power.length - 1, to); b++)
    if (best === null || power[b]! > power[best]!) best = b
  return best
}

/** Mean of the spectrum beside a line, the highest fifth left out: it may hold another line. */
function floorBeside(power: Float64Array, peak: number): number {
  const beside: number[] = []
  for (let b = Math.max(4, peak - BESIDE); b <= Math.min(power.length - 1, peak + BESIDE); b++)
    if (Math.abs(b - peak) > 4) beside.push(power[b]!)
  beside.sort((a, b) => a - b)
  const kept = beside.slice(0, Math.max(1, Math.ceil(0.8 * beside.length)))
  // The mean of the lower four fifths of an exponential distribution is 0.598 of its mean.
  return kept.reduce((sum, p) => sum + p, 0) / kept.length / 0.598
}

function refined(windows: readonly Residual[], turns: number, bin: number) {
  let best = { perReading: turns, amplitude2: 0 }
  for (let k = -10; k <= 10; k++) {
    const perReading = turns + (k / 10) * bin
    let sum = 0
    for (const w of windows) sum += amplitude2(w, perReading) / windows.length
    if (sum > best.amplitude2) best = { perReading, amplitude2: sum }
  }
  return best
}

/** The residual less the hum, fitted anew in windows as long as those it was found in: the mains wanders. */
export function withoutHum(residual: Residual, { turns }: Hum): Residual {
  const { place } = residual
  const valueN = residual.valueN.slice()
  for (let from = 0; from < valueN.length; from += WINDOW_READINGS) {
    const to = Math.min(valueN.length, from + WINDOW_READINGS)
    const angle = (i: number): number => 2 * Math.PI * turns * place[i]!
    let cc = 0
    let cs = 0
    let ss = 0
    let cv = 0
    let sv = 0
    for (let i = from; i < to; i++) {
      const c = Math.cos(angle(i))
      const s = Math.sin(angle(i))
      cc += c * c
      cs += c * s
      ss += s * s
      cv += c * valueN[i]!
      sv += s * valueN[i]!
    }
    const determinant = cc * ss - cs * cs
    if (!(determinant > 0)) continue
    const a = (cv * ss - sv * cs) / determinant
    const b = (sv * cc - cv * cs) / determinant
    for (let i = from; i < to; i++) valueN[i]! -= a * Math.cos(angle(i)) + b * Math.sin(angle(i))
  }
  return { ...residual, valueN }
}
