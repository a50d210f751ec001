import type { OpenStudy } from '../data/backend.ts'
import type { Place } from './places.ts'

/** Whether a place of a study has nothing missing any more. */
export function isDone(
  { study, variants, specimens, readings, recordings }: OpenStudy,
  place: Place,
): boolean {
  const counted = specimens.filter(specimen => specimen.status !== 'left-out')
  const recorded = new Set([
    ...recordings.map(entry => entry.specimen?.id),
    ...specimens.filter(({ typedPeak }) => typedPeak).map(({ id }) => id),
  ])
  const read = new Set(readings.map(reading => reading.specimenId))
  switch (place) {
    case 'plan':
      return study.question !== '' && variants.length > 1 && study.plannedPerVariant !== null
    case 'rig':
      return recordings.some(entry => entry.rigId !== null)
    case 'pull':
      return counted.length > 0 && counted.every(specimen => recorded.has(specimen.id))
    case 'read':
      return recorded.size > 0 && [...recorded].every(id => id === undefined || read.has(id))
    case 'compare':
      return variants.length > 1 && variants.every(variant => enough(counted, read, variant.id))
    case 'tell':
      return study.method !== ''
  }
}

/** Two is the least from which a spread can be told. */
const enough = (
  specimens: OpenStudy['specimens'],
  read: ReadonlySet<string | null>,
  variantId: string,
): boolean => specimens.filter(s => s.variantId === variantId && read.has(s.id)).length >= 2
