import { firstAtOrAfter } from '../../core/signal/search.ts'
import type { Moment } from './moments.ts'

/** One moment and the transient that it is taken for. */
export interface Pair {
  readonly moment: number
  readonly transient: number
  /** Clip time heard less clip time expected. */
  readonly residualS: number
  /** Chance that it was this moment that was heard there, the rest of the fit being right. */
  readonly chance: number
}

/**
 * A way of laying a recording against a sound: clip time = recording time + shift + rate · (recording time −
 * pivot).
 */
export interface Fit {
  readonly shiftS: number
  /** Clip seconds in a recording second, less one. */
  readonly rate: number
  /** Variances of shift and rate and their covariance. */
  readonly varShift: number
  readonly varRate: number
  readonly covariance: number
  readonly pairs: readonly Pair[]
  /** Natural logarithm of the probability of the sound with this fit over that of background alone. */
  readonly logEvidence: number
}

/** What the fits of one pattern share. */
export interface Scene {
  readonly moments: readonly Moment[]
  /** Standard deviations between a moment and its transient, one a moment. */
  readonly standardS: Float64Array
  readonly pivotS: number
  readonly transientS: Float64Array
  /** Transients a second over the whole clip. */
  readonly overallHz: number
  /** Transients within {@link AROUND_S} of each, itself among them. */
  readonly around: Int32Array
  readonly lengthS: number
  /** Standard deviation of clock rates beforehand. */
  readonly rateStandard: number
  /** Greatest clock rate either way. */
  readonly mostRate: number
}

/** The background around a transient is counted over this time to either side. */
export const AROUND_S = 3
/** Farther off than so many standard deviations a transient is not taken for the moment. */
const GATE = 4
/**
 * How likely a moment is to be heard; what is not known is weighed over several chances, with how likely each
 * is.
 */
const HEARD = {
  tap: [
    { chance: 0.95, weight: 0.7 },
    { chance: 0.6, weight: 0.3 },
  ],
  break: [
    { chance: 0.9, weight: 0.35 },
    { chance: 0.5, weight: 0.35 },
    { chance: 0.05, weight: 0.3 },
  ],
} as const
const USUAL = { tap: 0.9, break: 0.6 } as const

export const clipTimeOf = (
  scene: Scene,
  { shiftS, rate }: Pick<Fit, 'shiftS' | 'rate'>,
  atS: number,
): number => atS + shiftS + rate * (atS - scene.pivotS)

/** Betters a first guess by weighted least squares on the transients that it takes for moments. */
export function fitPlacement(scene: Scene, guess: Pick<Fit, 'shiftS' | 'rate'>, rounds = 6): Fit {
  let fit = solve(scene, guess, pairsOf(scene, guess, 2 * GATE))
  for (let round = 1; round < rounds; round++) {
    const next = solve(scene, fit, pairsOf(scene, fit, GATE))
    const settled = Math.abs(next.shiftS - fit.shiftS) < 1e-6 && Math.abs(next.rate - fit.rate) < 1e-9
    fit = next
    if (settled) break
  }
  const pairs = pairsOf(scene, fit, GATE)
  return { ...fit, pairs, logEvidence: logEvidence(scene, fit, pairs) }
}

/**
 * For each moment that lies in the clip, the nearest transient; a transient is taken once, by the moment
 * nearest to it.
 */
function pairsOf(scene: Scene, at: Pick<Fit, 'shiftS' | 'rate'>, gate: number): Pair[] {
  const { moments, standardS, transientS } = scene
  const byTransient = new Map<number, Pair>()
  for (let i = 0; i < moments.length; i++) {
    const expectedS = clipTimeOf(scene, at, moments[i]!.atS)
    const transient = nearest(transientS, expectedS)
    if (transient === null) continue
    const residualS = transientS[transient]! - expectedS
    const s = standardS[i]!
    if (Math.abs(residualS) > gate * s) continue
    const heard = USUAL[moments[i]!.what] * density(residualS, s)
    const chance = heard / (heard + (1 - USUAL[moments[i]!.what]) * backgroundHz(scene, transient, 1))
    const other = byTransient.get(transient)
    if (other === undefined || chance > other.chance)
      byTransient.set(transient, { moment: i, transient, residualS, chance })
  }
  return [...byTransient.values()]
}

/** Weighted least squares of the residuals on shift and rate, the rate drawn towards none. */
function solve(scene: Scene, at: Pick<Fit, 'shiftS' | 'rate'>, pairs: readonly Pair[]): Fit {
  let w0 = 1e-9
  let w1 = 0
  let w2 = 1 / scene.rateStandard ** 2
  let y0 = 0
  let y1 = -at.rate / scene.rateStandard ** 2
  for (const { moment, residualS, chance } of pairs) {
    const weight = chance / scene.standardS[moment]! ** 2
    const x = scene.moments[moment]!.atS - scene.pivotS
    w0 += weight
    w1 += weight * x
    w2 += weight * x * x
    y0 += weight * residualS
    y1 += weight * x * residualS
  }
  const determinant = w0 * w2 - w1 * w1
  const shiftBy = (w2 * y0 - w1 * y1) / determinant
  const rateBy = (w0 * y1 - w1 * y0) / determinant
  const rate = Math.max(-scene.mostRate, Math.min(scene.mostRate, at.rate + rateBy))
  return {
    shiftS: at.shiftS + shiftBy,
    rate,
    varShift: w2 / determinant,
    varRate: w0 / determinant,
    covariance: -w1 / determinant,
    pairs: [],
    logEvidence: Number.NEGATIVE_INFINITY,
  }
}

/**
 * The likelihood of the sound under the fit over that under background alone, integrated over shift and rate
 * about it (Laplace's method). A moment heard with chance p adds (1 − p) + p·N(residual)/density: the
 * background is a Poisson process of that density. Moments that fall outside the clip say nothing.
 */
function logEvidence(scene: Scene, fit: Fit, pairs: readonly Pair[]): number {
  const ratios = new Float64Array(scene.moments.length)
  for (const { moment, transient, residualS } of pairs) {
    const atS = scene.transientS[transient]!
    // What the pattern itself was heard as is no background.
    const own = pairs.filter(p => Math.abs(scene.transientS[p.transient]! - atS) <= AROUND_S).length
    ratios[moment] = density(residualS, scene.standardS[moment]!) / backgroundHz(scene, transient, own)
  }
  let log = 0
  for (const what of ['tap', 'break'] as const) {
    const logs = HEARD[what].map(({ chance, weight }) => {
      let sum = Math.log(weight)
      for (let i = 0; i < scene.moments.length; i++) {
        const moment = scene.moments[i]!
        if (moment.what !== what) continue
        const expectedS = clipTimeOf(scene, fit, moment.atS)
        if (expectedS < 0 || expectedS > scene.lengthS) continue
        sum += Math.log(1 - chance + chance * ratios[i]!)
      }
      return sum
    })
    log += logSum(logs)
  }
  const spanS = scene.lengthS + scene.moments.at(-1)!.atS - scene.moments[0]!.atS
  const volume = 2 * Math.PI * Math.sqrt(Math.max(1e-300, fit.varShift * fit.varRate - fit.covariance ** 2))
  return log + Math.log(volume / spanS) + Math.log(density(fit.rate, scene.rateStandard))
}

/** Transients a second around one of them, `own` left out: never less than over the whole clip. */
const backgroundHz = ({ around, overallHz }: Scene, transient: number, own: number): number =>
  Math.max(overallHz, (around[transient]! - own + 1) / (2 * AROUND_S))

const density = (residual: number, standard: number): number =>
  Math.exp(-0.5 * (residual / standard) ** 2) / (standard * Math.sqrt(2 * Math.PI))

/** Logarithm of a sum of exponentials. */
export function logSum(logs: readonly number[]): number {
  const most = Math.max(...logs)
  if (most === Number.NEGATIVE_INFINITY) return most
  return most + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - most), 0))
}

function nearest(sorted: Float64Array, at: number): number | null {
  const after = firstAtOrAfter(sorted, at)
  if (after === sorted.length) return after > 0 ? after - 1 : null
  return after > 0 && at - sorted[after - 1]! < sorted[after]! - at ? after - 1 : after
}
