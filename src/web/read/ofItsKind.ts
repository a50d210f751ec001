import { saysPractice } from '../../core/reading/practice.ts'
import type { OpenStudy } from '../data/backend.ts'

/**
 * A study with the readings of one variant alone: of the specimen itself, and of the others of its variant that count.
 * One without a variant stands by itself; practice and real pulls are not of one kind.
 */
export function ofItsKind(open: OpenStudy, specimenId: string): OpenStudy {
  const variantId = open.specimens.find(({ id }) => id === specimenId)?.variantId ?? null
  const own = open.readings.find(one => one.specimenId === specimenId)
  const kind = new Set(
    open.specimens
      .filter(one => variantId !== null && one.variantId === variantId && one.status !== 'left-out')
      .map(({ id }) => id),
  ).add(specimenId)
  return {
    ...open,
    readings: open.readings.filter(
      one =>
        one.specimenId !== null &&
        kind.has(one.specimenId) &&
        (own === undefined || saysPractice(one.reading) === saysPractice(own.reading)),
    ),
  }
}
