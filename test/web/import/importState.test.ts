import { expect, test } from 'vitest'
import { readSpecimensTable } from '../../../src/logs/index.ts'
import { type ImportState, importState, NOTHING_DROPPED } from '../../../src/web/import/importState.ts'
import { partFiles } from '../../../src/web/import/partFiles.ts'

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

const tables = [1, 2]
  .map(
    k =>
      `Specimen ${k}\ntime s,force N\n${Array.from({ length: 30 }, (_, i) => `${i / 10},${i * k}`).join('\n')}\n`,
  )
  .join('\n')

test('a file of several tables is parted into specimens named as it names them, and joined again', async () => {
  const whole = file('run.csv', tables)
  const before = dropped(NOTHING_DROPPED, [file('a.csv'), whole, file('z.csv')])
  const { id } = before.items[1]!
  const parts = await partFiles(whole, {})
  const parted = importState(before, { type: 'parted', id, parts })
  expect(names(parted)).toEqual(['a.csv', 'run, Specimen 1.csv', 'run, Specimen 2.csv', 'z.csv'])
  expect(parted.items.map(({ byHand }) => byHand.specimen)).toEqual([
    undefined,
    'Specimen 1',
    'Specimen 2',
    undefined,
  ])
  expect(await parts[1]!.file.text()).toMatch(/^Specimen 2\ntime s,force N\n0,0\n/)
  // The whole file dropped once more is not another.
  expect(names(dropped(parted, [whole]))).toEqual(names(parted))
  const joined = importState(parted, { type: 'rejoined', file: whole })
  expect(names(joined)).toEqual(['a.csv', 'run.csv', 'z.csv'])
  // Once one of them is kept, they stay as they are.
  const kept = importState(parted, { type: 'keeping', id: parted.items[1]!.id, kept: 'yes', problems: [] })
  expect(importState(kept, { type: 'rejoined', file: whole })).toBe(kept)
})
