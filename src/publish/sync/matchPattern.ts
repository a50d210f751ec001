import { firstAfter, firstAtOrAfter } from '../../core/signal/search.ts'
import { AROUND_S, clipTimeOf, type Fit, fitPlacement, logSum, type Scene } from './fitPlacement.ts'
import type { Moment } from './moments.ts'

/** Where a pattern of moments lies in a clip, as far as its sound tells. */
export interface Match {
  /** Recording time `anchor.recordingS` is clip time `anchor.clipS`; it is where the doubt is least. */
  readonly anchor: { readonly recordingS: number; readonly clipS: number }
  /** Half-width of a 95 % interval of the clip time at the anchor. */
  readonly uncertaintyS: number
  /** How much the clip's clock runs ahead of the recording's, in millionths, with its 95 % half-width. */
  readonly ratePpm: number
  readonly rateUncertaintyPpm: number
  /** Probability that the offset is within the doubt of the true one, against every other place and none. */
  readonly confidence: number
  readonly confident: boolean
  readonly matched: readonly Matched[]
  /** Moments within the clip that nothing was heard of. */
  readonly unheard: readonly Moment[]
}

export interface Matched {
  readonly what: Moment['what']
  readonly recordingS: number
  readonly clipS: number
  /** Heard less expected. */
  readonly residualS: number
}

export interface MatchOptions {
  /** Greatest difference of the two clocks, in millionths. */
  readonly mostPpm?: number
}

/** What a confident match must reach. Fewer than three sounds fit anywhere. */
export const CONFIDENT = { probability: 0.998, matched: 3, uncertaintyS: 1 / 30 } as const
export const MOST_PPM = 1_000

/** The hop of the sound, and sound on its way (3 m are 9 ms): standard deviation of a transient's time. */
const TRANSIENT_STANDARD_S = 0.002
/** What no repetition shows: the way of the sound differs from tap to break. */
const COMMON_STANDARD_S = 0.002
/**
 * Standard deviation of clock rates beforehand, as a share of the greatest: crystals keep to 100 ppm or so
 * (from memory).
 */
const USUAL_RATE = 1 / 6
/** Probability beforehand that nothing of the pattern can be heard in the clip. */
const ABSENT = 0.2
const MOST_MOMENTS = 60
const MOST_RATES = 61
const MOST_CANDIDATES = 240
/** Fits nearer than this to the best say the same. */
const SAME_S = 0.02
/** Coverage factor of 95 %. */
const K95 = 1.96

/**
 * Lays the taps and breaks of a recording against the transients of a clip: offset and clock rate, and how
 * sure that is. Clicks that were not heard and clicks that are none of the recording's are allowed for: each
 * way of laying the pattern is weighed by its probability, given a background of clicks at random times, and
 * the confidence is the share of the best one. `null` where fewer than two moments can be matched.
 */
export function matchPattern(
  moments: readonly Moment[],
  transientS: Float64Array,
  lengthS: number,
  { mostPpm = MOST_PPM }: MatchOptions = {},
): Match | null {
  if (moments.length < 2 || transientS.length < 2 || !(lengthS > 0)) return null
  const scene = sceneOf(usable(moments), transientS, lengthS, mostPpm * 1e-6)
  const fits = distinct(candidates(scene).map(guess => fitPlacement(scene, guess)))
  const best = fits.reduce<Fit | null>((a, b) => (a === null || b.logEvidence > a.logEvidence ? b : a), null)
  if (best === null) return null
  const here = fits.filter(f => agrees(scene, f, best))
  const all = logSum([...fits.map(f => f.logEvidence + Math.log(1 - ABSENT)), Math.log(ABSENT)])
  const confidence = Math.exp(logSum(here.map(f => f.logEvidence + Math.log(1 - ABSENT))) - all)
  return matchOf(scene, best, here, confidence)
}

/** Taps first, then the breaks, where there are too many to try. */
function usable(moments: readonly Moment[]): Moment[] {
  if (moments.length <= MOST_MOMENTS) return [...moments]
  const taps = moments.filter(m => m.what === 'tap').slice(-MOST_MOMENTS / 2)
  const breaks = moments.filter(m => m.what === 'break').slice(0, MOST_MOMENTS - taps.length)
  return [...taps, ...breaks].sort((a, b) => a.atS - b.atS)
}

function sceneOf(
  moments: readonly Moment[],
  transientS: Float64Array,
  lengthS: number,
  mostRate: number,
): Scene {
  const standardS = Float64Array.from(moments, m => Math.hypot(m.standardS, TRANSIENT_STANDARD_S))
  const weights = standardS.map(s => 1 / (s * s))
  const total = weights.reduce((a, b) => a + b, 0)
  return {
    moments,
    standardS,
    pivotS: moments.reduce((sum, m, i) => sum + m.atS * weights[i]!, 0) / total,
    transientS,
    overallHz: (transientS.length + 1) / lengthS,
    around: Int32Array.from(
      transientS,
      t => firstAfter(transientS, t + AROUND_S) - firstAtOrAfter(transientS, t - AROUND_S),
    ),
    lengthS,
    rateStandard: mostRate * USUAL_RATE,
    mostRate,
  }
}

type Guess = Pick<Fit, 'shiftS' | 'rate'> & { readonly score: number }

/** Shifts at which many moments meet a transient, over a grid of clock rates; the best of them. */
function candidates(scene: Scene): Guess[] {
  const { moments, standardS, transientS, pivotS, mostRate } = scene
  const finest = standardS.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY)
  const reachS = Math.max(...moments.map(m => Math.abs(m.atS - pivotS)))
  const steps = Math.min((MOST_RATES - 1) / 2, Math.ceil((mostRate * reachS) / (1.5 * finest)))
  const windowS = 4 * finest + (steps > 0 ? (mostRate / steps) * reachS : 0)
  const found: Guess[] = []
  const shifts = new Float64Array(moments.length * transientS.length)
  for (let step = -steps; step <= steps; step++) {
    const rate = steps === 0 ? 0 : (step / steps) * mostRate
    let n = 0
    for (const { atS } of moments) {
      const ownS = atS + rate * (atS - pivotS)
      for (const t of transientS) shifts[n++] = t - ownS
    }
    shifts.sort()
    keepPeaks(shifts, windowS, rate, found)
    if (found.length > 40 * MOST_CANDIDATES) prune(found)
  }
  prune(found)
  return found
}

/** Windows of the sorted shifts that hold more of them than their neighbours. */
function keepPeaks(shifts: Float64Array, windowS: number, rate: number, found: Guess[]): void {
  let to = 0
  let bestFrom = -1
  let bestCount = 0
  const close = (): void => {
    if (bestCount < 2) return
    let sum = 0
    for (let k = bestFrom; k < bestFrom + bestCount; k++) sum += shifts[k]!
    // Among equals the slower clock is the likelier.
    found.push({ shiftS: sum / bestCount, rate, score: bestCount - Math.abs(rate) })
  }
  for (let from = 0; from < shifts.length; from++) {
    while (to < shifts.length && shifts[to]! - shifts[from]! <= windowS) to++
    const count = to - from
    if (bestFrom >= 0 && shifts[from]! - shifts[bestFrom]! > windowS) {
      close()
      bestFrom = -1
      bestCount = 0
    }
    if (count > bestCount) {
      bestCount = count
      bestFrom = from
    }
  }
  close()
}

function prune(found: Guess[]): void {
  found.sort((a, b) => b.score - a.score)
  found.length = Math.min(found.length, MOST_CANDIDATES)
}

/** Fits that were reached from several guesses, once. */
function distinct(fits: readonly Fit[]): Fit[] {
  const kept: Fit[] = []
  for (const fit of [...fits].sort((a, b) => b.logEvidence - a.logEvidence)) {
    const known = kept.some(k => sameTransients(k, fit))
    if (!known && Number.isFinite(fit.logEvidence)) kept.push(fit)
  }
  return kept
}

function sameTransients(a: Fit, b: Fit): boolean {
  if (Math.abs(a.shiftS - b.shiftS) > 0.001 || a.pairs.length !== b.pairs.length) return false
  return a.pairs.every(
    (pair, i) => b.pairs[i]?.moment === pair.moment && b.pairs[i]?.transient === pair.transient,
  )
}

/** Two fits that lay every moment within 20 ms of each other. */
function agrees(scene: Scene, a: Fit, b: Fit): boolean {
  return [scene.moments[0]!, scene.moments.at(-1)!].every(
    m => Math.abs(clipTimeOf(scene, a, m.atS) - clipTimeOf(scene, b, m.atS)) <= SAME_S,
  )
}

function matchOf(scene: Scene, best: Fit, here: readonly Fit[], confidence: number): Match {
  const sure = best.pairs.filter(p => p.chance > 0.5).sort((a, b) => a.moment - b.moment)
  const chi2 = sure.reduce((sum, p) => sum + (p.residualS / scene.standardS[p.moment]!) ** 2, 0)
  // Residuals larger than told widen the doubt, smaller ones do not narrow it (Birge 1932).
  const scale = Math.max(1, chi2 / Math.max(1, sure.length - 1))
  const among = spreadOf(here)
  // The doubt is least where shift and rate do not hang together.
  const apartS = -best.covariance / best.varRate
  const recordingS = scene.pivotS + apartS
  const variance =
    (best.varShift - best.covariance ** 2 / best.varRate) * scale + among + COMMON_STANDARD_S ** 2
  const uncertaintyS = K95 * Math.sqrt(variance)
  const heard = new Set(sure.map(p => p.moment))
  return {
    anchor: { recordingS, clipS: clipTimeOf(scene, best, recordingS) },
    uncertaintyS,
    ratePpm: best.rate * 1e6,
    rateUncertaintyPpm: K95 * Math.sqrt(best.varRate * scale) * 1e6,
    confidence,
    confident:
      confidence >= CONFIDENT.probability &&
      sure.length >= CONFIDENT.matched &&
      uncertaintyS <= CONFIDENT.uncertaintyS,
    matched: sure.map(p => ({
      what: scene.moments[p.moment]!.what,
      recordingS: scene.moments[p.moment]!.atS,
      clipS: scene.transientS[p.transient]!,
      residualS: p.residualS,
    })),
    unheard: scene.moments.filter((m, i) => {
      const expectedS = clipTimeOf(scene, best, m.atS)
      return !heard.has(i) && expectedS >= 0 && expectedS <= scene.lengthS
    }),
  }
}

/** Variance of the shift among fits that agree, by their probabilities. */
function spreadOf(fits: readonly Fit[]): number {
  const all = logSum(fits.map(f => f.logEvidence))
  const weights = fits.map(f => Math.exp(f.logEvidence - all))
  const mean = fits.reduce((sum, f, i) => sum + weights[i]! * f.shiftS, 0)
  return fits.reduce((sum, f, i) => sum + weights[i]! * (f.shiftS - mean) ** 2, 0)
}
