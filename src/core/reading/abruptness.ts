import { dropPriors } from './priors.ts'

/**
 * How likely a fall is an abrupt, irreversible loss of load rather than a part of a texture (stick-slip, teeth,
 * vibration, a flow that serrates).
 *
 * A break falls faster than anything nearby rises, and stays down; a texture rises about as fast as it falls and is
 * regained at once. The ratio ρ of the fall to the greatest rise over as many samples nearby, and the part of the fall
 * that is regained within a few times its length, give the probability (logistic in ln ρ).
 */
export interface Abruptness {
  readonly probability: number
  /** Fall over the greatest rise over as many samples nearby; infinity where nothing rises. */
  readonly ratio: number
}

export interface AbruptnessOptions {
  /** Samples that may be looked at: of the same segment, and no later than the end of the pull (`to`, one past it). */
  readonly from: number
  readonly to: number
  readonly periodS: number
  readonly noiseN: number
}

export function abruptness(
  loadN: Float64Array,
  fall: { readonly from: number; readonly to: number },
  { from, to, periodS, noiseN }: AbruptnessOptions,
): Abruptness {
  const steps = Math.max(1, fall.to - fall.from)
  const reach = Math.max(
    dropPriors.nearSamples,
    dropPriors.nearSteps * steps,
    Math.round(dropPriors.nearTime / Math.max(periodS, 1e-9)),
  )
  const most = Math.min(reach, MAX_REACH)
  const fallN = loadN[fall.from]! - loadN[fall.to]!
  const before = greatestRise(loadN, Math.max(from, fall.from - most), fall.from + 1, steps)
  const after = greatestRise(loadN, fall.to, Math.min(to, fall.to + most), steps)
  const riseN = Math.max(before, after, 2 * noiseN)
  const ratio = riseN > 0 ? fallN / riseN : Number.POSITIVE_INFINITY
  const regained = regainedShare(loadN, fall, Math.min(to, loadN.length), fallN)
  const log =
    dropPriors.sharpness * Math.log(ratio / dropPriors.evenRatio) -
    dropPriors.regain * Math.max(0, regained - dropPriors.regainFree)
  return { probability: 1 / (1 + Math.exp(-log)), ratio }
}

/** No farther is looked for what is nearby, however fast the sampling. */
const MAX_REACH = 2000

function greatestRise(loadN: Float64Array, from: number, to: number, steps: number): number {
  let most = 0
  for (let i = from; i + steps < to; i++) most = Math.max(most, loadN[i + steps]! - loadN[i]!)
  return most
}

/** Part of a fall that is regained within three times its length. */
function regainedShare(
  loadN: Float64Array,
  { from, to }: { readonly from: number; readonly to: number },
  end: number,
  fallN: number,
): number {
  let highN = loadN[to]!
  for (let i = to + 1; i < Math.min(end, to + 3 * (to - from) + 1); i++) highN = Math.max(highN, loadN[i]!)
  return fallN > 0 ? (highN - loadN[to]!) / fallN : 0
}
