import fc from 'fast-check'
import { expect, test } from 'vitest'
import { blockedOrder } from '../../../src/core/statistics/plan/order.ts'
import type { RecordingEntry, Specimen, Variant } from '../../../src/server/apiTypes.ts'
import { checklistOf } from '../../../src/web/plan/checklist.ts'

const variant = (name: string, place: number): Variant => ({
  id: `v-${name}`,
  studyId: 's',
  name,
  place,
  control: false,
  elements: null,
  note: '',
})
const variants = [variant('paste', 0), variant('hot melt', 1)]
const specimen = (name: string, of: string | null, status: Specimen['status'] = 'planned') =>
  ({ id: name, name, variantId: of && `v-${of}`, status }) as Specimen
const recording = (of: string, setAside: RecordingEntry['setAside'] = null) =>
  ({ specimen: { id: of, name: of }, setAside }) as RecordingEntry

const blocks = [
  ['paste 1', 'hot melt 1'],
  ['hot melt 2', 'paste 2'],
]

test('places without a specimen are to be made', () => {
  const { missing, all, pulled } = checklistOf({ blocks }, { variants, specimens: [], recordings: [] })
  expect(missing.map(({ label, variantId }) => [label, variantId])).toEqual([
    ['paste 1', 'v-paste'],
    ['hot melt 1', 'v-hot melt'],
    ['hot melt 2', 'v-hot melt'],
    ['paste 2', 'v-paste'],
  ])
  expect([pulled, all]).toEqual([0, 4])
})

test('a recording ticks its place; one set aside does not', () => {
  const specimens = [
    specimen('paste 1', 'paste'),
    specimen('hot melt 1', 'hot melt'),
    specimen('paste 2', 'paste', 'left-out'),
  ]
  const recordings = [
    recording('paste 1'),
    recording('hot melt 1', { at: '', why: 'knocked' }),
    recording('paste 2'),
  ]
  const states = checklistOf({ blocks }, { variants, specimens, recordings })
    .blocks.flat()
    .map(slot => slot.state)
  expect(states).toEqual(['pulled', 'planned', 'unmade', 'left-out'])
})

test('specimens under other names take the places of their variant, those that were pulled first', () => {
  const specimens = [specimen('early', 'paste'), specimen('P-7', 'paste', 'pulled'), specimen('loose', null)]
  const { blocks: made, surplus } = checklistOf(
    { blocks },
    { variants, specimens, recordings: [recording('P-7')] },
  )
  expect(made.flat().map(slot => slot.specimen?.name ?? null)).toEqual(['P-7', null, null, 'early'])
  expect(surplus.map(({ name }) => name)).toEqual(['loose'])
})

test('no specimen stands in two places, and each that was pulled is never to be taken out', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 8 }),
      fc.integer({ min: 0, max: 1000 }),
      fc.array(fc.record({ of: fc.constantFrom('paste', 'hot melt'), pulled: fc.boolean() }), {
        maxLength: 25,
      }),
      (perGroup, seed, given) => {
        const order = blockedOrder(['paste', 'hot melt'], perGroup, seed)
        const specimens = given.map(({ of }, i) => specimen(i % 2 ? `${of} ${i}` : `x${i}`, of))
        const recordings = specimens.filter((_, i) => given[i]?.pulled).map(({ id }) => recording(id))
        const list = checklistOf(order, { variants, specimens, recordings })
        const placed = list.blocks.flat().flatMap(slot => (slot.specimen ? [slot.specimen.id] : []))
        expect(new Set(placed).size).toBe(placed.length)
        const pulled = new Set(recordings.map(entry => entry.specimen?.id))
        expect(list.surplus.some(({ id }) => pulled.has(id))).toBe(false)
        expect(placed.length + list.missing.length).toBe(2 * perGroup)
      },
    ),
  )
})
