import { amendmentsOf } from './adjustment.ts'
import type { Reading } from './document.ts'

/** Equal elements that a reading went by: an adjustment's, else what is told of the specimen; `null`: not known. */
export function elementsOf({
  adjustments,
  specimen,
}: Pick<Reading, 'adjustments' | 'specimen'>): number | null {
  const adjusted = amendmentsOf(adjustments ?? []).elements
  return adjusted !== undefined ? adjusted : (specimen?.elements ?? null)
}
