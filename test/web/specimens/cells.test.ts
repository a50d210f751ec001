import { describe, expect, test } from 'vitest'
import { BLANK_SPECIMEN } from '../../../src/core/study.ts'
import type { Specimen } from '../../../src/server/apiTypes.ts'
import { type Around, cellText, laidIn, type RowChange, stepsOf } from '../../../src/web/specimens/cells.ts'
import { clipboardCells } from '../../../src/web/specimens/clipboard.ts'
import { bad, good } from '../../store/stores.ts'

const specimen = (id: string, more: Partial<Specimen> = {}): Specimen => ({
  ...BLANK_SPECIMEN,
  status: 'pulled',
  id,
  studyId: 's',
  name: `paste ${id}`,
  variantId: 'p',
  createdAt: '',
  updatedAt: '',
  ...more,
})
const variant = { id: 'p', studyId: 's', name: 'paste', place: 0, control: false, elements: null, note: '' }
const around: Around = { variants: [variant], recorded: new Set(['1']), unit: 'kgf', who: 'Ada' }
const one = specimen('1')
const typed = specimen('2', {
  typedPeak: { value: 5, unit: 'kgf', isAtLeast: true, step: 0.02, doubt: null, who: 'Bo' },
})
const steps = (cells: RowChange['cells'], of: Specimen | null = one) =>
  good(stepsOf([{ specimen: of, cells }], around))

describe('cells from the clipboard', () => {
  test.each([
    ['one cell', 'a', [['a']]],
    ['a row and its end', 'a\tb\r\n', [['a', 'b']]],
    [
      'empty cells stay',
      'a\t\tb\n\tc\t\n',
      [
        ['a', '', 'b'],
        ['', 'c', ''],
      ],
    ],
    ['quotes around tabs, line ends and quotes', '"a\tb\nc ""d"""\te\n', [['a\tb\nc "d"', 'e']]],
    ['a quote within a cell is a letter', '5" wide\tb', [['5" wide', 'b']]],
    ['nothing', '', []],
  ])('%s', (_, text, cells) => {
    expect(clipboardCells(text)).toEqual(cells)
  })
})

describe('cells as steps', () => {
  test('what is there already makes no step', () => {
    for (const of of [one, typed])
      expect(
        steps({ name: of.name, variant: 'paste', width: '', step: cellText(of, 'step', around) }, of),
      ).toEqual([])
    expect(steps({ peak: '>5', step: '0,02' }, typed)).toEqual([
      { kind: 'change', specimenId: '2', fields: { typedPeak: { ...typed.typedPeak, who: 'Ada' } } },
    ])
  })

  test('figures, words, days, modes and variants go to their fields; an empty cell clears', () => {
    expect(
      steps({
        name: 'x',
        width: '12,5',
        elements: '8',
        operator: 'Bo',
        mode: 'glue',
        day: '2026-05-03',
        order: '3',
      }),
    ).toEqual([
      {
        kind: 'change',
        specimenId: '1',
        fields: {
          name: 'x',
          widthMm: 12.5,
          elements: 8,
          operator: 'Bo',
          failureMode: 'glue',
          pulledOn: '2026-05-03',
          pullOrder: 3,
        },
      },
    ])
    expect(steps({ width: '', variant: '' }, specimen('1', { widthMm: 3 }))).toEqual([
      { kind: 'change', specimenId: '1', fields: { widthMm: null } },
      { kind: 'to-variant', specimenId: '1', variant: null },
    ])
    expect(steps({ variant: 'new' })).toEqual([{ kind: 'to-variant', specimenId: '1', variant: 'new' }])
  })

  test('a new row is a specimen: planned, or pulled where its peak was typed', () => {
    expect(steps({ name: 'late' }, null)).toEqual([
      { kind: 'add', name: 'late', variant: null, fields: { status: 'planned' } },
    ])
    expect(
      steps({ name: 'late', variant: 'paste', peak: '6.9 lbf', step: '0.1', doubt: '0.2' }, null),
    ).toEqual([
      {
        kind: 'add',
        name: 'late',
        variant: 'paste',
        fields: {
          status: 'pulled',
          typedPeak: { value: 6.9, unit: 'lbf', isAtLeast: false, step: 0.1, doubt: 0.2, who: 'Ada' },
        },
      },
    ])
  })

  test.each<[string, RowChange['cells'], Specimen | null, string]>([
    ['no name', { name: ' ' }, one, 'a specimen needs a name'],
    ['no number', { width: 'wide' }, one, '“wide” is not a number above 0'],
    ['no whole number', { elements: '2.5' }, one, '“2.5” is not a whole number from 1'],
    ['no day', { day: '2026-02-30' }, one, '“2026-02-30” is not a day'],
    ['no force', { peak: 'much' }, typed, '“much” is not a force above 0'],
    ['no unit', { peak: '5 stones' }, typed, '“5 stones” is not a force above 0'],
    ['counts are no force', { peak: '5 counts' }, typed, 'is not a force above 0'],
    ['the peak of a curve', { peak: '5' }, one, 'its peak is what its curve shows'],
    ['a step without a peak', { step: '0.1' }, specimen('3'), 'none is typed'],
  ])('%s is refused', (_, cells, of, text) => {
    expect(bad(stepsOf([{ specimen: of, cells }], around))).toContain(text)
  })
})

describe('a block that is laid in', () => {
  const all = [one, typed]
  test('from a cell to the right and down, rows beyond the last one new', () => {
    expect(laidIn([['a', 'b'], ['c'], ['d']], all, { row: 0, column: 'operator' })).toEqual([
      { specimen: one, cells: { operator: 'a', batch: 'b' } },
      { specimen: typed, cells: { operator: 'c' } },
      { specimen: null, cells: { operator: 'd' } },
    ])
  })

  test('under headings each cell goes to its column and each row to the specimen of its name', () => {
    const block = [
      ['Specimen', 'Peak, kgf', '', 'width, mm'],
      ['paste 2', '5', 'x', '3'],
      ['paste 9', '6', '', ''],
    ]
    expect(laidIn(block, all, { row: 0, column: 'note' })).toEqual([
      { specimen: typed, cells: { name: 'paste 2', peak: '5 kgf', width: '3' } },
      { specimen: null, cells: { name: 'paste 9', peak: '6 kgf', width: '' } },
    ])
  })

  test('a step in another unit than its peak is refused, not taken for it', () => {
    const block = [
      ['specimen', 'peak, kgf', 'scale step, N'],
      ['late', '5', '0.1'],
    ]
    expect(bad(stepsOf(laidIn(block, all, { row: 0, column: 'name' }), around))).toContain('“0.1 N” is not')
    const alike = laidIn(
      [
        ['specimen', 'peak, N', 'step, N'],
        ['late', '5', '0.1'],
      ],
      all,
      { row: 0, column: 'name' },
    )
    expect(alike[0]?.cells).toEqual({ name: 'late', peak: '5 N', step: '0.1' })
  })

  test('on the new row, a name that is there means that specimen', () => {
    expect(laidIn([['paste 1', 'paste']], all, { row: 2, column: 'name' })[0]?.specimen).toBe(one)
  })
})
