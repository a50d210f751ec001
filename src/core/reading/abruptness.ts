import { nthLeast } from '../signal/order.ts'
import { dropPriors } from './priors.ts'

/**
 * How likely a fall is an abrupt, irreversible loss of load rather than a part of a texture (stick-slip, teeth,
 * vibration, a flow that serrates).
 *
 * A break falls faster than anything nearby rises, and stays down; a texture rises about as fast as it falls and is
 * regained at once. The ratio ρ of the fall to the greatest rise over as many samples nearby (less their median rise:
 * even loading is no texture) and the size of the fall give the probability (logistic in ln ρ).
 */
export interface Abruptness {
  /** Logarithm of the odds that it is abrupt, before anything is known of the other falls of the record. */
  readonly logOdds: number
  /** Fall over the greatest uneven rise over as many samples nearby; infinity where nothing rises. */
  readonly ratio: number
}

export interface AbruptnessOptions {
  /** Samples that may be looked at: of the same segment, and no later than the end of the pull (`to`, one past it). */
  readonly from: number
  readonly to: number
  readonly periodS: number
  readonly noiseN: number
  /** Greatest force of the record. */
  readonly greatestN: number
}

export function abruptness(
  timeS: Float64Array,
  loadN: Float64Array,
  fall: { readonly from: number; readonly to: number },
  { from, to, periodS, noiseN, greatestN }: AbruptnessOptions,
): Abruptness {
  const steps = Math.max(1, fall.to - fall.from)
  const reach = Math.max(
    dropPriors.nearSamples,
    dropPriors.nearSteps * steps,
    Math.round(dropPriors.nearTime / Math.max(periodS, 1e-9)),
  )
  const most = Math.min(reach, MAX_REACH)
  const fallN = loadN[fall.from]! - loadN[fall.to]!
  const lastsS = steps * periodS
  const before = unevenRise(timeS, loadN, Math.max(from, fall.from - most), fall.from + 1, steps, lastsS)
  const after = unevenRise(timeS, loadN, fall.to, Math.min(to, fall.to + most), steps, lastsS)
  const riseN = Math.max(before, after, 2 * noiseN)
  const ratio = riseN > 0 ? fallN / riseN : Number.POSITIVE_INFINITY
  const logOdds =
    dropPriors.sharpness * Math.log(ratio / dropPriors.evenRatio) +
    dropPriors.smallness * Math.min(0, Math.log(fallN / (dropPriors.smallShare * greatestN)))
  return { logOdds, ratio }
}

/**
 * What the record as a whole says of each of its falls, as logarithm of odds: where most are part of a texture, the
 * next one is too; where they are breaks, nothing is added.
 */
export function recordOdds(falls: readonly Abruptness[], gradual: number): number {
  const abrupt = falls.filter(f => f.logOdds > 0).length
  return Math.min(0, Math.log((abrupt + 1) / (falls.length + gradual - abrupt + 1)))
}

/** Readings that took this many times as long as usual have others missing between them. */
const MISSING = 1.5
/** No farther is looked for what is nearby, however fast the sampling. */
const MAX_REACH = 2000

/**
 * By how much the greatest rise over so many samples exceeds the usual (median) one, where the force rises at all: even
 * loading is no texture. Where readings are missing a rise had longer than `lastsS`, and counts for that share of it.
 */
function unevenRise(
  timeS: Float64Array,
  loadN: Float64Array,
  from: number,
  to: number,
  steps: number,
  lastsS: number,
): number {
  const rises = new Float64Array(Math.max(0, to - from))
  let n = 0
  let most = 0
  for (let i = from; i + steps < to; i++) {
    let rise = loadN[i + steps]! - loadN[i]!
    if (!(rise > 0)) continue
    const tookS = timeS[i + steps]! - timeS[i]!
    if (tookS > MISSING * lastsS) rise *= lastsS / tookS
    rises[n++] = rise
    if (rise > most) most = rise
  }
  return n === 0 ? 0 : most - nthLeast(rises, n, n >> 1)
}
