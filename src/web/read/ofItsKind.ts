import type { OpenStudy } from '../data/backend.ts'

/**
 * A study with the readings of one variant alone: of the specimen itself, and of the others of its variant that count.
 * One without a variant stands by itself.
 */
export function ofItsKind(open: OpenStudy, specimenId: string): OpenStudy {
  const variantId = open.specimens.find(({ id }) => id === specimenId)?.variantId ?? null
  const kind = new Set(
    open.specimens
      .filter(one => variantId !== null && one.variantId === variantId && one.status !== 'left-out')
      .map(({ id }) => id),
  ).add(specimenId)
  return {
    ...open,
    readings: open.readings.filter(one => one.specimenId !== null && kind.has(one.specimenId)),
  }
}
