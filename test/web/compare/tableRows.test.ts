import { describe, expect, test } from 'vitest'
import type { Comparison } from '../../../src/core/statistics/document.ts'
import { asSheetText, filteredRows, rowsOf, sortedRows } from '../../../src/web/compare/tableRows.ts'

const specimen = (name: string, more: object = {}) => ({
  name,
  group: 'paste',
  value: 60,
  low: 58,
  high: 62,
  status: 'measured',
  mode: 'peeled',
  day: '2026-05-04',
  order: 0,
  dropped: null,
  suspect: false,
  ...more,
})
const rows = (...specimens: object[]) => rowsOf({ specimens } as unknown as Comparison, { unit: 'N', per: 1 })
const names = (of: ReturnType<typeof rows>) => of.map(({ cells }) => cells.specimen)

describe('a row of text', () => {
  test('says the value with its doubt, and counts the order from one', () => {
    expect(rows(specimen('a'))[0]?.cells).toEqual({
      group: 'paste',
      specimen: 'a',
      value: '60.0 N',
      doubt: '58.0 to 62.0 N',
      mode: 'peeled',
      day: '2026-05-04',
      order: '1',
      said: '',
    })
  })
  test('says what a value is that was only reached, or was not recorded at all', () => {
    const [least, lost] = rows(
      specimen('a', { status: 'at-least', low: null, high: null }),
      specimen('b', { status: 'not-recorded', value: null, low: null, high: null, order: null, mode: null }),
    )
    expect(least?.cells.value).toBe('at least 60.0 N')
    expect(lost?.cells).toMatchObject({ value: 'not recorded', doubt: '–', order: '–', mode: '–' })
  })
  test('says why one does not count, and that one stands apart', () => {
    expect(rows(specimen('a', { dropped: 'left out: torn', suspect: true }))[0]?.cells.said).toBe(
      'left out: torn; stands apart from the others of its variant',
    )
  })
})

describe('sorting', () => {
  const some = rows(
    specimen('s-10', { value: 9, order: 2, low: 8, high: 10 }),
    specimen('s-2', { value: null, order: null, low: null, high: null }),
    specimen('s-1', { value: 100, order: 0, low: 90, high: 110 }),
  )
  test('figures go by size either way, and those without one stay last', () => {
    expect(names(sortedRows(some, 'value', false))).toEqual(['s-10', 's-1', 's-2'])
    expect(names(sortedRows(some, 'value', true))).toEqual(['s-1', 's-10', 's-2'])
    expect(names(sortedRows(some, 'doubt', false))).toEqual(['s-10', 's-1', 's-2'])
    expect(names(sortedRows(some, 'order', true))).toEqual(['s-10', 's-1', 's-2'])
  })
  test('words go as people sort them, numbers in them by size', () => {
    expect(names(sortedRows(some, 'specimen', false))).toEqual(['s-1', 's-2', 's-10'])
    expect(names(sortedRows(some, 'specimen', true))).toEqual(['s-10', 's-2', 's-1'])
  })
})

test('every word of a filter must stand in some cell, whatever its case', () => {
  const some = rows(specimen('a'), specimen('b', { mode: 'tore', group: 'Glue' }))
  expect(names(filteredRows(some, ' GLUE tore '))).toEqual(['b'])
  expect(names(filteredRows(some, 'glue peeled'))).toEqual([])
  expect(names(filteredRows(some, '  '))).toEqual(['a', 'b'])
})

test('copied text has a line for each row, and nothing in it runs as a formula', () => {
  const text = asSheetText(rows(specimen('=1+1', { group: 'a\tb\nc', mode: '@x' })))
  const [head, line, ...more] = text.split('\n')
  expect(more).toEqual([])
  expect(head?.split('\t')).toHaveLength(8)
  expect(line?.split('\t').slice(0, 2)).toEqual(['a b c', "'=1+1"])
  expect(line).toContain("'@x")
})
