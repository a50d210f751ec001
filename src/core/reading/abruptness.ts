import { dropPriors } from './priors.ts'

/**
 * How likely a fall is an abrupt, irreversible loss of load rather than a part of a texture (stick-slip, teeth,
 * vibration, a flow that serrates).
 *
 * A break falls faster than anything nearby rises, and stays down; a texture rises about as fast as it falls and is
 * regained at once. The ratio ρ of the fall to the greatest rise over as many samples nearby (less their median rise:
 * even loading is no texture), the part of the fall that is regained within a few times its length, and its size give
 * the probability (logistic in ln ρ).
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
  const before = risesOver(loadN, Math.max(from, fall.from - most), fall.from + 1, steps)
  const after = risesOver(loadN, fall.to, Math.min(to, fall.to + most), steps)
  const riseN = Math.max(before.unevenN, after.unevenN, 2 * noiseN)
  const ratio = riseN > 0 ? fallN / riseN : Number.POSITIVE_INFINITY
  const usualN = Math.max(before.usualN, after.usualN)
  const regained = regainedShare(loadN, fall, Math.min(to, loadN.length), fallN, usualN)
  const logOdds =
    dropPriors.sharpness * Math.log(ratio / dropPriors.evenRatio) -
    dropPriors.regain * Math.max(0, regained - dropPriors.regainFree) +
    dropPriors.smallness * Math.min(0, Math.log(fallN / (dropPriors.smallShare * greatestN)))
  return { logOdds, ratio }
}

/**
 * What the record as a whole says of each of its falls, as logarithm of odds: where most are part of a texture, the
 * next one is too; where they are breaks, nothing is added.
 */
export function recordOdds(falls: readonly Abruptness[]): number {
  const abrupt = falls.filter(f => f.logOdds > 0).length
  return Math.min(0, Math.log((abrupt + 1) / (falls.length - abrupt + 1)))
}

/** No farther is looked for what is nearby, however fast the sampling. */
const MAX_REACH = 2000

/**
 * The usual (median) rise over so many samples where the force rises at all, and by how much the greatest exceeds it:
 * even loading is no texture.
 */
function risesOver(
  loadN: Float64Array,
  from: number,
  to: number,
  steps: number,
): { usualN: number; unevenN: number } {
  const rises: number[] = []
  for (let i = from; i + steps < to; i++) {
    const rise = loadN[i + steps]! - loadN[i]!
    if (rise > 0) rises.push(rise)
  }
  if (rises.length === 0) return { usualN: 0, unevenN: 0 }
  const sorted = Float64Array.from(rises).sort()
  const usualN = sorted[sorted.length >> 1]!
  return { usualN, unevenN: sorted.at(-1)! - usualN }
}

/** Steps, in lengths of the fall, within which a texture is regained. */
const REGAIN_STEPS = 3

/** Part of a fall that is regained within three times its length, beyond what usual loading brings in that time. */
function regainedShare(
  loadN: Float64Array,
  { from, to }: { readonly from: number; readonly to: number },
  end: number,
  fallN: number,
  usualN: number,
): number {
  let highN = loadN[to]!
  for (let i = to + 1; i < Math.min(end, to + REGAIN_STEPS * (to - from) + 1); i++)
    highN = Math.max(highN, loadN[i]!)
  return fallN > 0 ? (highN - loadN[to]! - REGAIN_STEPS * usualN) / fallN : 0
}
