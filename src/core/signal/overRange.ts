import { nextFrom } from './scan.ts'

/** A top that is cut flat. */
export interface OverRange {
  readonly limitN: number
  /** Samples at the limit. */
  readonly count: number
  /** First and last of them. */
  readonly from: number
  readonly to: number
}

export interface OverRangeOptions {
  readonly noiseN: number
  readonly quantumN: number
  readonly periodS: number
  /** Reading with no load, in N, as far as known. */
  readonly zeroN: number
  /** Greatest reading. */
  readonly greatestN: number
}

const LEAST_SAMPLES = 4
/** Log of how much likelier a cut must be than a held load. */
const DECISIVE = 7
/** A held specimen relaxes by some tenths of a per cent in this time, which shows from this many display steps on. */
const RELAXES_S = 0.8
const RELAXES_STEPS = 150

/**
 * A cut top: the greatest reading is repeated more often than the noise about a held load allows, with nothing above
 * it. Where the display is too coarse to show the noise, it must stand still for 0.8 s at 150 display steps or more,
 * which a held specimen, that relaxes, does not. A force that left the limit and stands flat at the very same reading
 * again, with nothing above it, is cut too: no load comes back to its greatest step by chance.
 */
export function findOverRange(forceN: Float64Array, options: OverRangeOptions): OverRange | null {
  const { noiseN, quantumN, periodS, zeroN, greatestN: limitN } = options
  if (!(limitN - zeroN > Math.max(20 * noiseN, 20 * quantumN))) return null
  const top = plateau(forceN, limitN, 5 * noiseN + 1.5 * quantumN)
  if (top.atLimit < LEAST_SAMPLES) return null
  const still = top.longestRun
  const own = Math.sqrt(Math.max(noiseN * noiseN - (quantumN * quantumN) / 12, (0.05 * quantumN) ** 2))
  const cut =
    // Readings that lie on no grid never repeat by chance.
    (quantumN === 0 && still >= LEAST_SAMPLES) ||
    (quantumN > 0 && pileUp(top.atLimit, top.samples, own / quantumN) > DECISIVE) ||
    (still >= 8 && still * periodS >= RELAXES_S && limitN - zeroN >= RELAXES_STEPS * quantumN) ||
    top.flatVisits > 1
  return cut && !isOneOfManySteps(forceN, top, quantumN) && arrivesAtSpeed(forceN, top.from, limitN - zeroN)
    ? { limitN, count: top.count, from: top.from, to: top.to }
    : null
}

/**
 * Whether the greatest display step is stood on no longer than the one below it was on the way up: a slow rise on a
 * coarse display stands on each of its steps.
 */
function isOneOfManySteps(forceN: Float64Array, { from, count }: Plateau, quantumN: number): boolean {
  if (quantumN === 0) return false
  // A display of so many digits steps farther the more it shows: the step is that to the reading before.
  const beforeN = forceN[from - 1] ?? Number.NaN
  let below = 0
  for (let i = from - 1; i >= 0 && Math.abs(forceN[i]! - beforeN) < 0.5 * quantumN; i--) below++
  return below > 1 && count < STEPS_ALIKE * below
}

/** Steps of a slow rise last alike, but for this factor. */
const STEPS_ALIKE = 4

/** Samples before the limit over which the arrival at it is judged. */
const ARRIVAL = 4
/** A force that yields slows down before its top: by less than this share of the earlier rise it is not cut. */
const SLOWED = 0.35

/**
 * Whether the force came to the limit as fast as it had risen before: a range cuts a rise off, while a specimen that
 * yields rounds it.
 */
function arrivesAtSpeed(forceN: Float64Array, at: number, heightN: number): boolean {
  let span = ARRIVAL
  // Far enough back for the rise to show, in slow loading and fast sampling.
  while (at - 2 * span - 1 > 0 && forceN[at - 1]! - forceN[at - 1 - span]! < ARRIVAL_RISE * heightN) span *= 2
  if (at - 2 * span - 1 < 0) return true
  const last = forceN[at - 1]! - forceN[at - 1 - span]!
  const earlier = forceN[at - 1 - span]! - forceN[at - 1 - 2 * span]!
  return last > SLOWED * earlier
}

/** Part of the height that the rise before the limit must show. */
const ARRIVAL_RISE = 0.02

interface Plateau {
  readonly count: number
  readonly from: number
  readonly to: number
  /** Of the stretch near the limit that holds most samples at it: those at it, and all from the first to the last of them. */
  readonly atLimit: number
  readonly samples: number
  readonly longestRun: number
  /** How often the force came to the limit and stood there for some samples without a change. */
  readonly flatVisits: number
}

function plateau(forceN: Float64Array, limitN: number, near: number): Plateau {
  const edge = limitN - 1e-9 * Math.abs(limitN)
  let count = 0
  let first = -1
  let last = -1
  let mostAtLimit = 0
  let samples = 0
  let longestRun = 0
  let run = 0
  let atLimit = 0
  let since = -1
  let stood = false
  let flatVisits = 0
  let before = -1
  const next = (i: number): number => nextFrom(forceN, i, forceN.length, limitN - near)
  for (let i = next(0); i < forceN.length; before = i, i = next(i + 1)) {
    if (i > before + 1) {
      if (stood) flatVisits++
      stood = false
      atLimit = 0
      run = 0
    }
    if (forceN[i]! < edge) {
      run = 0
      continue
    }
    if (atLimit === 0) since = i
    atLimit++
    run++
    count++
    if (first < 0) first = i
    last = i
    if (run >= LEAST_SAMPLES) stood = true
    longestRun = Math.max(longestRun, run)
    if (atLimit > mostAtLimit) {
      mostAtLimit = atLimit
      samples = i - since + 1
    }
  }
  return {
    count,
    from: first,
    to: last,
    atLimit: mostAtLimit,
    samples,
    longestRun,
    flatVisits: flatVisits + (stood ? 1 : 0),
  }
}

/**
 * Log likelihood ratio of a cut against a held load, for `atTop` of `samples` readings on the top display step and
 * none above it. `spread`: noise over display step. The held load may lie anywhere in its step.
 */
function pileUp(atTop: number, samples: number, spread: number): number {
  const below = samples - atTop
  let held = Number.NEGATIVE_INFINITY
  for (let place = -3; place <= 1; place += 0.05) {
    // The load lies `place` display steps above the middle of the top step.
    const inTop = Math.max(1e-12, normalBelow((0.5 - place) / spread) - normalBelow((-0.5 - place) / spread))
    const under = Math.max(1e-12, normalBelow((-0.5 - place) / spread))
    held = Math.max(held, atTop * Math.log(inTop) + below * Math.log(under))
  }
  const share = atTop / samples
  const cut = atTop * Math.log(share) + (below > 0 ? below * Math.log(1 - share) : 0)
  return cut - held
}

/** Standard normal distribution function, from Abramowitz and Stegun 7.1.26 (error below 1.5e-7). */
function normalBelow(z: number): number {
  const x = Math.abs(z) / Math.SQRT2
  const t = 1 / (1 + 0.3275911 * x)
  const poly =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))))
  const upper = 0.5 * poly * Math.exp(-x * x)
  return z > 0 ? 1 - upper : upper
}
