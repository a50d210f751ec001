import { expect, test } from 'vitest'
import { readSpecimensTable } from '../../../src/logs/index.ts'
import { type ImportState, importState, NOTHING_DROPPED } from '../../../src/web/import/importState.ts'

const file = (name: string, text = 'x') => new File([text], name, { lastModified: 1 })
const dropped = (state: ImportState, files: File[], table = ''): ImportState => {
  const rows = readSpecimensTable(new TextEncoder().encode(table), 't.csv')
  return importState(importState(state, { type: 'dropped', files, studyId: null }), {
    type: 'sorted',
    of: files,
    found: {
      logs: files.map(one => ({ file: one })),
      tables: rows.ok ? [{ name: 't.csv', rows: rows.value, problems: [], remarks: [] }] : [],
      strange: [],
    },
  })
}
const names = ({ items }: ImportState) => items.map(item => item.file.name)

test('logs lie in the order of their names, numbers as numbers, a longer name after the same shorter one', () =>
  expect(
    names(
      dropped(
        NOTHING_DROPPED,
        ['s-10.csv', 's-3-log2.csv', 's-3.csv', 's-2.csv'].map(n => file(n)),
      ),
    ),
  ).toEqual(['s-2.csv', 's-3.csv', 's-3-log2.csv', 's-10.csv']))

test('a table that came along gives its order, logs that it does not name after', () =>
  expect(
    names(
      dropped(
        NOTHING_DROPPED,
        ['a.csv', 'b.csv', 'c.csv'].map(n => file(n)),
        'file,specimen\nc.csv,1\nb.csv,1\n',
      ),
    ),
  ).toEqual(['c.csv', 'b.csv', 'a.csv']))

test('the same file dropped again is on the table once; new ones are added with ids of their own', () => {
  const state = dropped(dropped(NOTHING_DROPPED, [file('a.csv')]), [file('a.csv'), file('b.csv')])
  expect(names(state)).toEqual(['a.csv', 'b.csv'])
  expect(new Set(state.items.map(({ id }) => id)).size).toBe(2)
  expect(state.incoming).toEqual([])
})

test('the order of two logs is changed', () => {
  const state = dropped(NOTHING_DROPPED, [file('a.csv'), file('b.csv')])
  const [a, b] = state.items.map(({ id }) => id)
  expect(names(importState(state, { type: 'swapped', a: a ?? 0, b: b ?? 0 }))).toEqual(['b.csv', 'a.csv'])
})

test('an answer to options that have changed since is passed over', () => {
  const state = dropped(NOTHING_DROPPED, [file('a.csv')])
  const { id, options: before } = state.items[0] as ImportState['items'][number]
  const corrected = importState(state, { type: 'corrected', ids: [id], options: { rateHz: 10 } })
  const late = importState(corrected, {
    type: 'looked',
    id,
    options: before,
    look: null,
    known: null,
    problems: [],
  })
  expect(late.items[0]?.stale).toBe(true)
})

test('logs dropped on a study go to it, and the person’s own choice of study stays', () => {
  const first = importState(NOTHING_DROPPED, { type: 'dropped', files: [file('a')], studyId: 's1' })
  expect(first.study.id).toBe('s1')
  const chosen = importState(first, { type: 'study', study: { id: null, name: 'New', question: '' } })
  expect(importState(chosen, { type: 'dropped', files: [file('b')], studyId: 's2' }).study.name).toBe('New')
})
