import type { Drop } from './measureDrop.ts'
import { elementPriors } from './priors.ts'

/** Likelihood of the tangents before and after when the second is `ratio` times the first. */
export function tangentLikelihood({ before, after, readingN }: Drop, ratio: number): number {
  if (before.n < 2 || after.n < 2) return 1
  const seBefore = readingN / Math.sqrt(before.spreadS2)
  const seAfter = readingN / Math.sqrt(after.spreadS2)
  if (!(before.slopeNPerS > 3 * seBefore)) return 1
  const { tangentSpread, tangentSpoilt } = elementPriors
  const sd = Math.hypot(seAfter, ratio * seBefore, tangentSpread * before.slopeNPerS) / before.slopeNPerS
  const off = (after.slopeNPerS / before.slopeNPerS - ratio) / sd
  return (
    tangentSpoilt * 0.5 + ((1 - tangentSpoilt) * Math.exp(-0.5 * off * off)) / (sd * Math.sqrt(2 * Math.PI))
  )
}
