import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type PlainRows, takePlainRows } from '../../../src/logs/table/fastRows.ts'
import { takePairRows } from '../../../src/logs/table/pairRows.ts'
import { SampleTable } from '../../../src/logs/table/sampleTable.ts'
import { utf8 } from '../support.ts'

const rows: PlainRows = { delimiter: 44, decimal: 46, columns: [0, 1] }

function emptyTable(): SampleTable {
  const table = new SampleTable()
  table.addColumn('time', 'number')
  table.addColumn('force', 'number')
  return table
}

const taken = (table: SampleTable): number[][] =>
  table.columns.map(({ values }) => Array.from(values.subarray(0, table.rows)))

test('short numbers, whole or not, of either sign', () => {
  const bytes = utf8('0.001,-1.5\n12,7\r\n.5,-.25\n3.,-0\n123456789,0.12345678\n')
  const table = emptyTable()
  expect(takePairRows(bytes, 0, bytes.length, 7, rows, table)).toBe(bytes.length)
  expect(taken(table)).toEqual([
    [0.001, 12, 0.5, 3, 123456789],
    [-1.5, 7, -0.25, -0, 0.12345678],
  ])
  expect(table.lineOf(4)).toBe(11)
})

test.each([
  ['ten digits', '1234567890,2'],
  ['a blank', '1, 2'],
  ['an exponent', '1e3,2'],
  ['a sign before a plus', '+1,2'],
  ['a third cell', '1,2,3'],
  ['an empty cell', '1,'],
  ['a lone minus', '1,-'],
  ['a lone point', '.,1'],
  ['text', 'reset'],
  ['another delimiter', '1;2'],
  ['a carriage return alone', '1,2\r3,4'],
])('stops before a row with %s', (_what, row) => {
  const bytes = utf8(`1,2\n${row}\n5,6\n`)
  const table = emptyTable()
  expect(takePairRows(bytes, 0, bytes.length, 1, rows, table)).toBe(4)
  expect(taken(table)).toEqual([[1], [2]])
})

test('stops where the table is full', () => {
  const bytes = utf8('1,2\n'.repeat(5000))
  const table = emptyTable()
  const at = takePairRows(bytes, 0, bytes.length, 1, rows, table)
  expect(table.rows).toBe(table.capacity)
  expect(at).toBe(4 * table.capacity)
})

const digits = fc.string({ unit: fc.constantFrom(...'0123456789'), maxLength: 11 })
const number = fc
  .tuple(fc.constantFrom('', '', '-', '+', ' '), digits, fc.constantFrom('', '.'), digits)
  .map(parts => parts.join(''))
const end = fc.constantFrom('\n', '\n', '\n', '\r\n', '\r')

test('takes rows as the general loop takes them, for as long as it takes them', () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(number, number, end), { minLength: 1, maxLength: 12 }), lines => {
      const bytes = utf8(`${lines.map(([a, b, after]) => `${a},${b}${after}`).join('')}\n`)
      const general = emptyTable()
      const stop = takePlainRows(bytes, 0, bytes.length, 1, rows, general)
      const pairs = emptyTable()
      const at = takePairRows(bytes, 0, bytes.length, 1, rows, pairs)
      expect(at).toBeLessThanOrEqual(stop)
      takePlainRows(bytes, at, bytes.length, 1 + pairs.rows, rows, pairs)
      expect(taken(pairs)).toEqual(taken(general))
    }),
    { numRuns: 400, seed: 20_261_125 },
  )
})
