import { describe, expect, test } from 'vitest'
import { readTable, tableNumber } from '../../src/logs/index.ts'
import { latin1, utf8, utf16 } from './support.ts'

const cellsOf = (bytes: Uint8Array) => {
  const table = readTable(bytes, 't.csv')
  if (!table.ok) throw new Error(table.problems[0]?.what)
  return [table.value.names, ...table.value.rows.map(row => row.cells)]
}
const expected = [
  ['file', 'width_mm', 'note'],
  ['a b.csv', '10.5', 'stitched, twice'],
  ['c.csv', '', ''],
]

describe('readTable', () => {
  test.each([
    ['commas, quotes', utf8('file,width_mm,note\na b.csv,10.5,"stitched, twice"\nc.csv,,\n')],
    ['tabs', utf8('file\twidth_mm\tnote\r\na b.csv\t10.5\tstitched, twice\r\nc.csv\r\n')],
    [
      'bars, comments, blank lines',
      utf8('# ours\n\nfile | width_mm | note\n\na b.csv | 10.5 | stitched, twice\nc.csv | | \n'),
    ],
    ['UTF-16', utf16('file;width_mm;note\na b.csv;10.5;stitched, twice\nc.csv;;;;\n')],
  ])('reads %s', (_, bytes) => expect(cellsOf(bytes)).toEqual(expected))

  test('keeps line numbers past quoted line ends', () => {
    const table = readTable(utf8('file,note\na,"two\nlines"\nb,\n'), 't.csv')
    expect(table.ok && table.value.rows).toEqual([
      { line: 2, cells: ['a', 'two\nlines'] },
      { line: 4, cells: ['b', ''] },
    ])
  })

  test('reads decimal commas and Latin-1', () => {
    const table = readTable(latin1('Prüfling;Länge\nA;1,5\nB;12\n'), 't.csv')
    if (!table.ok) throw new Error('did not read')
    expect(table.value.names).toEqual(['Prüfling', 'Länge'])
    expect(table.value.rows.map(row => tableNumber(table.value, row.cells[1]!))).toEqual([1.5, 12])
  })

  test('takes a first line of numbers as a row', () => {
    expect(cellsOf(utf8('0 12\n5 512\n10 1012\n'))).toEqual([
      ['', ''],
      ['0', '12'],
      ['5', '512'],
      ['10', '1012'],
    ])
  })

  test('reads a lone column', () =>
    expect(cellsOf(utf8('file\na.csv\nb c.csv\n'))).toEqual([['file'], ['a.csv'], ['b c.csv']]))

  test.each([
    ['nothing', utf8(''), /empty/],
    ['comments alone', utf8('# a\n'), /empty/],
    ['a row too wide', utf8('a,b\n1,2\n1,2,3\n'), /line 3.*has 3 cells, but line 1 names 2.*quotes/],
    ['a workbook', utf8('PK\x03\x04'), /spreadsheet workbook/],
  ])('%s is a problem', (_, bytes, says) => {
    const table = readTable(bytes, 't.csv')
    expect(table.ok ? '' : table.problems.map(p => `${p.where}: ${p.what} ${p.cure}`).join()).toMatch(says)
  })
})
