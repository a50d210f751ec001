import { standardDeviation } from '../group/moments.ts'
import { type DoubtPart, type Specimen, valuesOf } from './specimen.ts'

/** Half-width of a 95 % normal interval in standard errors. */
export const Z95 = 1.959_963_984_540_054

/** Standard uncertainty of one value from everything that is known of it; `null` where nothing is. */
function ownStandard(specimen: Specimen): number | null {
  if (specimen.parts.length > 0) return rootSum(specimen.parts)
  if (specimen.low === null || specimen.high === null) return null
  return (specimen.high - specimen.low) / 2 / Z95
}

const rootSum = (parts: readonly DoubtPart[]): number => Math.hypot(...parts.map(p => p.standard))

/**
 * Parts of a mean's doubt that do not shrink with the number of specimens, as one standard uncertainty.
 *
 * A part shared by the rig moves all values of the source together, so the mean carries their mean; one shared by a
 * day moves those of the day together, and days are independent. What is shared by nothing or by one recording
 * already shows in the scatter of the values and is not added again. GUM (JCGM 100:2008), 5.2 and F.1.2.
 */
export const sharedStandardOfMean = (group: readonly Specimen[]): number => sharedStandard(weights(group, 1))

/**
 * The same for the difference of two means on one rig: of each shared part only what the groups do not have in common
 * is left. A wrong zero cancels, a wrong scale leaves its share of the difference itself.
 */
export const sharedStandardOfDifference = (a: readonly Specimen[], b: readonly Specimen[]): number =>
  sharedStandard([...weights(a, 1), ...weights(b, -1)])

const weights = (group: readonly Specimen[], sign: 1 | -1): readonly (readonly [Specimen, number])[] =>
  group.map(s => [s, sign / group.length])

function sharedStandard(weighted: readonly (readonly [Specimen, number])[]): number {
  const moves = new Map<string, number>()
  for (const [specimen, weight] of weighted) {
    for (const part of specimen.parts) {
      if (part.shared !== 'rig' && part.shared !== 'day') continue
      const which = part.of ?? part.source
      const cause = part.shared === 'rig' ? `rig ${which}` : `day ${specimen.day ?? ''} ${which}`
      moves.set(cause, (moves.get(cause) ?? 0) + weight * part.standard)
    }
  }
  return Math.hypot(...moves.values())
}

export interface DoubtBesideSpread {
  /** Root mean square of the values' own standard uncertainties, without what is shared by the rig or the day. */
  readonly ownStandard: number
  readonly sd: number
  /** (own/sd)²: the share of the scatter's variance that measuring alone would make. */
  readonly share: number
}

/** How much of a group's scatter is measuring, not specimens. `null` with fewer than two values or no known doubt. */
export function doubtBesideSpread(group: readonly Specimen[]): DoubtBesideSpread | null {
  const known = group.flatMap(s => unsharedStandard(s) ?? [])
  if (group.length < 2 || known.length < group.length) return null
  const sd = standardDeviation(valuesOf(group))
  const own = Math.sqrt(known.reduce((sum, u) => sum + u * u, 0) / known.length)
  if (sd === 0) return own > 0 ? { ownStandard: own, sd, share: Number.POSITIVE_INFINITY } : null
  return { ownStandard: own, sd, share: (own / sd) ** 2 }
}

function unsharedStandard(specimen: Specimen): number | null {
  if (specimen.parts.length === 0) return ownStandard(specimen)
  return rootSum(specimen.parts.filter(p => p.shared === 'none' || p.shared === 'recording'))
}
