import { expect, test } from 'vitest'
import { type ImportState, importState, NOTHING_DROPPED } from '../../../src/web/import/importState.ts'
import { stateFrom, tableOf } from '../../../src/web/import/kept/table.ts'

const file = (name: string) => new File(['1,2'], name, { lastModified: 1 })
const files = ['a.csv', 'b.csv', 'c.csv'].map(file)

/** Three logs on the table, with something said of each. */
const said = (): ImportState =>
  (
    [
      { type: 'dropped', files, studyId: 'study' },
      {
        type: 'sorted',
        of: files,
        found: { logs: files.map(one => ({ file: one })), tables: [], strange: [] },
      },
      { type: 'corrected', ids: [1], options: { rateHz: 80 } },
      { type: 'byHand', ids: [2], byHand: { specimen: 'paste 2' } },
      { type: 'leftOut', id: 3, leftOut: true },
      { type: 'byFileTime', ids: [1, 2], byFileTime: true },
      { type: 'pattern', pattern: '{variant}_{n}' },
      { type: 'rig', rigId: 'bench' },
    ] as const
  ).reduce<ImportState>((state, action) => importState(state, action), NOTHING_DROPPED)

/** As it comes back out of the browser's storage. */
const restored = (state: ImportState): ImportState => {
  const table = tableOf(state)
  if (!table) throw new Error('nothing was set aside')
  const items = new Map(state.items.map(item => [item.id, item.file]))
  return stateFrom(structuredClone(table), new Map(table.items.map(({ id }) => [id, items.get(id)!])))
}

test('what was said of dropped logs comes back, and each is looked at anew', () => {
  const before = said()
  const after = restored(before)
  expect(after).toEqual(before)
  expect(after.items.every(({ stale, look }) => stale && look === null)).toBe(true)
})

test('a log that is taken in is not set aside, and with the last of them nothing is', () => {
  const keep = (state: ImportState, id: number) =>
    importState(state, { type: 'keeping', id, kept: 'yes', problems: [] })
  const some = keep(said(), 1)
  expect(restored(some).items.map(({ id }) => id)).toEqual([2, 3])
  expect(tableOf(keep(keep(some, 2), 3))).toBeNull()
  expect(tableOf(importState(said(), { type: 'cleared' }))).toBeNull()
})

test('a log whose file was not set aside in time is missing, the others are there', () => {
  const table = tableOf(said())
  if (!table) throw new Error('nothing was set aside')
  expect(stateFrom(table, new Map([[2, files[1]!]])).items.map(({ id }) => id)).toEqual([2])
})

test('what was dropped before the table came back lies beside it, under names of its own', () => {
  const late = importState(NOTHING_DROPPED, {
    type: 'sorted',
    of: [],
    found: { logs: [{ file: file('late.csv') }], tables: [], strange: [] },
  })
  const both = importState(late, { type: 'restored', state: said() })
  expect(both.items.map(({ file }) => file.name)).toEqual(['a.csv', 'b.csv', 'c.csv', 'late.csv'])
  expect(new Set(both.items.map(({ id }) => id)).size).toBe(4)
  expect(both.nextId).toBe(5)
})
