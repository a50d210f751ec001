import type { Drop } from './measureDrop.ts'

/** Equal elements are not quite equal: relative spread of a tangent about the model. */
const TANGENT_SPREAD = 0.07
/** A tangent may be spoilt by a drive that stops or starts beside the drop. */
const TANGENT_SPOILT = 0.25

/** Likelihood of the tangents before and after when the second is `ratio` times the first. */
export function tangentLikelihood({ before, after, readingN }: Drop, ratio: number): number {
  if (before.n < 2 || after.n < 2) return 1
  const seBefore = readingN / Math.sqrt(before.spreadS2)
  const seAfter = readingN / Math.sqrt(after.spreadS2)
  if (!(before.slopeNPerS > 3 * seBefore)) return 1
  const sd = Math.hypot(seAfter, ratio * seBefore, TANGENT_SPREAD * before.slopeNPerS) / before.slopeNPerS
  const off = (after.slopeNPerS / before.slopeNPerS - ratio) / sd
  return (
    TANGENT_SPOILT * 0.5 + ((1 - TANGENT_SPOILT) * Math.exp(-0.5 * off * off)) / (sd * Math.sqrt(2 * Math.PI))
  )
}
