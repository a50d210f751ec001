import type { Study } from '../../server/apiTypes.ts'
import type { OpenStudy } from '../data/backend.ts'

const folded = (text: string): string => text.normalize('NFKC').toLowerCase()

/** Studies whose name or question holds every word, the most recently changed first. */
export function shelved(studies: readonly Study[], search: string): Study[] {
  const words = folded(search).split(/\s+/).filter(Boolean)
  return studies
    .filter(({ name, question }) => {
      const text = folded(`${name} ${question}`)
      return words.every(word => text.includes(word))
    })
    .sort((a, b) => (a.updatedAt < b.updatedAt ? 1 : a.updatedAt > b.updatedAt ? -1 : 0))
}

/** Whether there is a comparison to speak of: two variants at least with a reading each. */
export function hasAnswer({ variants, specimens, readings }: OpenStudy): boolean {
  const read = new Set(readings.map(reading => reading.specimenId))
  const withReading = variants.filter(({ id }) =>
    specimens.some(({ variantId, status, id: specimenId }) => {
      return variantId === id && status !== 'left-out' && read.has(specimenId)
    }),
  )
  return withReading.length > 1
}

/** Names of variants as they were typed, one a line; empty lines and repeats are passed over. */
export const variantNames = (typed: string): string[] => [
  ...new Set(
    typed
      .split(/[\n;]/)
      .map(name => name.trim())
      .filter(Boolean),
  ),
]
