import { fine, type Outcome, wrong } from '../problem.ts'
import { fitPolynomial } from './polynomial.ts'

export interface StiffnessOptions {
  /** Part of the rise that counts, as shares of the greatest force: below it slack is taken up. */
  readonly fromShare?: number
  readonly toShare?: number
  /** Stiffness of the bar itself, where it is not stiff beside the rig. */
  readonly barNPerMm?: number
}

export interface RigStiffness {
  readonly nPerMm: number
  /** From the scatter, or from the difference between the lower and the upper half of the rise, whichever is more. */
  readonly standardNPerMm: number
  /** Stiffness of the lower and the upper half: apart where the rig stiffens as it settles. */
  readonly lowerNPerMm: number
  readonly upperNPerMm: number
  readonly fromN: number
  readonly toN: number
  readonly samples: number
}

/**
 * Stiffness of the rig from a pull on a bar that hardly gives: over the first rise, travel as a line of the force; the
 * slope is the compliance of grips, frame, drive and cell (and bar, which is taken off: 1/k = 1/k_all − 1/k_bar).
 * `where` names the log in problems.
 */
export function rigStiffness(
  forceN: Float64Array,
  travelMm: Float64Array,
  where: string,
  { fromShare = 0.2, toShare = 0.95, barNPerMm }: StiffnessOptions = {},
): Outcome<RigStiffness> {
  const rise = firstRise(forceN, fromShare, toShare)
  const kept = rise.filter(i => Number.isFinite(travelMm[i]!))
  const problem = (what: string, cure: string) => wrong({ where, what, cure })
  if (kept.length < 10)
    return problem(
      `only ${kept.length} samples lie on the rise of the force.`,
      'Pull the bar slowly, over at least ten readings, to half of the capacity.',
    )
  const force = kept.map(i => forceN[i]!)
  const travel = kept.map(i => travelMm[i]!)
  const all = fitPolynomial(force, travel, { degree: 1 })
  const half = Math.floor(kept.length / 2)
  const lower = fitPolynomial(force.slice(0, half), travel.slice(0, half), { degree: 1 })
  const upper = fitPolynomial(force.slice(half), travel.slice(half), { degree: 1 })
  const compliances = [all, lower, upper].map(fit => Math.abs(fit?.coefficients[1] ?? 0))
  const moved = Math.max(...travel) - Math.min(...travel)
  if (!(moved > 0) || compliances.some(c => !(c > 0)) || all === null)
    return wrong({
      where,
      what: 'the travel does not move with the force.',
      cure: 'Name the column of travel, or give the speed of the drive, in mm a second.',
      code: 'travel-stands-still',
    })
  const ofBar = barNPerMm === undefined ? 0 : 1 / barNPerMm
  const [ofAll, ofLower, ofUpper] = compliances.map(c => c - ofBar) as [number, number, number]
  if (!(ofAll > 0 && ofLower > 0 && ofUpper > 0))
    return problem(
      `the bar alone (${barNPerMm} N/mm) would give more than rig and bar together did.`,
      'Check the stiffness of the bar, and the unit of the travel.',
    )
  const bySlope = all.standardErrors[1]! / ofAll ** 2
  const byHalves = Math.abs(1 / ofUpper - 1 / ofLower) / 2 / Math.sqrt(3)
  return fine({
    nPerMm: 1 / ofAll,
    standardNPerMm: Math.max(bySlope, byHalves),
    lowerNPerMm: 1 / ofLower,
    upperNPerMm: 1 / ofUpper,
    fromN: Math.min(...force),
    toN: Math.max(...force),
    samples: kept.length,
  })
}

/** Samples from the last time that the force leaves the foot of the rise until it first reaches the head. */
function firstRise(forceN: Float64Array, fromShare: number, toShare: number): number[] {
  let top = 0
  for (let i = 1; i < forceN.length; i++) if (forceN[i]! > forceN[top]!) top = i
  const least = forceN.subarray(0, top + 1).reduce((low, v) => Math.min(low, v), Infinity)
  const span = forceN[top]! - least
  const at = (share: number) => least + share * span
  let start = top
  while (start > 0 && forceN[start - 1]! > at(fromShare)) start--
  const rise: number[] = []
  for (let i = start; i <= top && forceN[i]! <= at(toShare); i++) rise.push(i)
  return rise
}
