import type { OpenStudy } from '../data/backend.ts'

type Specimens = OpenStudy['specimens']

/** The specimens of a study as they are gone through: variant by variant, those without one last. */
export function inReadingOrder({
  variants,
  specimens,
}: Pick<OpenStudy, 'variants' | 'specimens'>): Specimens {
  const placeOf = (variantId: string | null): number => {
    const at = variants.findIndex(({ id }) => id === variantId)
    return at < 0 ? variants.length : at
  }
  return [...specimens].sort((a, b) => placeOf(a.variantId) - placeOf(b.variantId))
}

/** Those with a recording that counts. */
export const recordedIds = ({ recordings }: Pick<OpenStudy, 'recordings'>): ReadonlySet<string> =>
  new Set(recordings.flatMap(entry => (entry.specimen && entry.setAside === null ? [entry.specimen.id] : [])))

/** Those with a result: recorded, or of which a peak was typed. */
export const pulledIds = (open: Pick<OpenStudy, 'recordings' | 'specimens'>): ReadonlySet<string> =>
  new Set([...recordedIds(open), ...open.specimens.flatMap(({ id, typedPeak }) => (typedPeak ? [id] : []))])

/** The specimen that an address without one means: the first that has a recording, else the first. */
export function firstToRead(open: Pick<OpenStudy, 'variants' | 'specimens' | 'recordings'>): string | null {
  const recorded = pulledIds(open)
  const order = inReadingOrder(open)
  return (order.find(({ id }) => recorded.has(id)) ?? order[0])?.id ?? null
}
