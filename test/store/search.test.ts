import { describe, expect, test } from 'vitest'
import type { Store } from '../../src/store/index.ts'
import { pretendRecording } from './pretendRecording.ts'
import { ENGINES, good, inStore } from './stores.ts'

const MANY = 60
const NAMES = ['Ösenring 7', 'naïve “knot”', 'tab_4 (2)', 'x%y', 'ab', 'İstanbul cord', '接着剤 3']

async function filled(store: Store): Promise<string[]> {
  const texts: string[] = []
  for (let i = 0; i < NAMES.length; i++) {
    const { entry } = good(
      await store.recordings.save({ ...pretendRecording(NAMES[i]!, [i, 2]), source: 'log', device: 'COM3' }),
    )
    texts.push([entry.name, entry.device, '', '', entry.id, entry.sha256].join(' ').toLowerCase())
  }
  return texts
}
const found = async (store: Store, search: string): Promise<string[]> =>
  (await store.recordings.list({ search, limit: 1000 })).items.map(({ name }) => name).sort()

describe.each(ENGINES)('looking up in $name', engine => {
  test('finds what a look through every text finds, for any piece of it', () =>
    inStore(engine, async store => {
      const texts = await filled(store)
      const pieces = texts.flatMap(text => {
        const letters = Array.from(text.split(' com3')[0]!)
        return letters.flatMap((_, from) => [2, 3, 5].map(n => letters.slice(from, from + n).join('')))
      })
      for (const piece of new Set([
        ...pieces,
        '"',
        '" or "',
        '***',
        'a and b',
        'not',
        '%%%',
        '___',
        '\\\\\\',
      ])) {
        const words = piece.trim().split(/\s+/).filter(Boolean)
        const expected = NAMES.filter((_, i) => words.every(word => texts[i]!.includes(word)))
        expect(await found(store, piece), piece).toEqual([...expected].sort())
      }
    }))

  test('knows new names at once, and the old ones no more', () =>
    inStore(engine, async store => {
      const specimen = good(await store.specimens.named({ study: 'Cords', variant: null, specimen: 'sisal' }))
      good(
        await store.recordings.save({
          ...pretendRecording('one.csv'),
          source: 'log',
          specimenId: specimen.id,
        }),
      )
      expect(await found(store, 'sisal cords')).toEqual(['one.csv'])
      good(await store.specimens.update(specimen.id, { name: 'hemp' }))
      good(await store.studies.update(specimen.studyId, { name: 'Ropes' }))
      expect(await found(store, 'hemp ropes')).toEqual(['one.csv'])
      expect(await found(store, 'sisal')).toEqual([])
      expect(await found(store, 'cords')).toEqual([])
      expect((await store.care.verify()).findings).toEqual([])
    }))

  test('many that fit come in pages, newest first, none twice', () =>
    inStore(engine, async store => {
      for (let i = 0; i < MANY; i++)
        good(await store.recordings.save({ ...pretendRecording(`piece ${i}`, [i, 1]), source: 'log' }))
      // A word of two letters is looked for along the list, a longer one by the index.
      for (const search of ['pi', 'piece']) {
        const seen: string[] = []
        for (let after: string | null | undefined; after !== null; ) {
          const page = await store.recordings.list({
            search,
            limit: 25,
            ...(after === undefined ? {} : { after }),
          })
          seen.push(...page.items.map(({ name }) => name))
          after = page.next
        }
        expect(seen.length).toBe(MANY)
        expect(new Set(seen).size).toBe(MANY)
      }
    }))
})
