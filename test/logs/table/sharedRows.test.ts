import { once } from 'node:events'
import { isDeepStrictEqual } from 'node:util'
import { Worker } from 'node:worker_threads'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { extentIn } from '../../../src/core/signal/extent.ts'
import { understandLayout } from '../../../src/logs/lines/layout.ts'
import { LogBody } from '../../../src/logs/logBody.ts'
import { SampleTable } from '../../../src/logs/table/sampleTable.ts'
import { readSharedRows, type SharedRows, sharedEnd, shareRows } from '../../../src/logs/table/sharedRows.ts'
import { left } from '../bodyTable.ts'
import { utf8 } from '../support.ts'

/** A log of plain rows, long enough that its layout is settled, and odd lines strewn among them. */
const header = 'time_s,force_N'
const plain = (i: number): string => `${(i / 100).toFixed(2)},${(i % 97) / 8}`
const oddLines = [
  '',
  '# cell changed',
  'reset',
  header,
  '1.00,',
  '1.0O,2',
  ' 7.00 , 3 ',
  '1e1,2.5',
  '12.3456789012,0.1',
  '8.00,"4"',
  '9.00,"a quote that stays open',
  '3,4,5',
]

interface Case {
  readonly end: string
  readonly odd: readonly { readonly at: number; readonly line: string }[]
  /** Line that the shared rows begin with. */
  readonly split: number
  /** Length of a part. */
  readonly part: number
  readonly lastEnd: boolean
}

const LINES = 120

const cases: fc.Arbitrary<Case> = fc.record({
  end: fc.constantFrom('\n', '\n', '\r\n'),
  odd: fc.array(fc.record({ at: fc.nat(LINES), line: fc.constantFrom(...oddLines) }), { maxLength: 4 }),
  split: fc.integer({ min: 2, max: LINES }),
  part: fc.integer({ min: 5, max: 3000 }),
  lastEnd: fc.boolean(),
})

const linesOf = ({ odd }: Case): string[] => {
  const rows = Array.from({ length: LINES }, (_, i) => plain(i))
  for (const { at, line } of odd) rows.splice(at, 0, line)
  return [header, ...rows]
}

const bytesOf = (lines: readonly string[], { end, lastEnd }: Case): Uint8Array =>
  utf8(lines.join(end) + (lastEnd ? end : ''))

function bodyOf(lines: readonly string[]): { body: LogBody; table: SampleTable } {
  const layout = understandLayout(lines, {})
  if (!layout) throw new Error('no layout')
  const table = new SampleTable(undefined, 'shared')
  return { body: new LogBody(layout, table), table }
}

function readWhole(given: Case) {
  const lines = linesOf(given)
  const { body, table } = bodyOf(lines)
  body.push(bytesOf(lines, given))
  return left(body, table)
}

type BytesAt = (from: number, length: number) => Uint8Array
const reading =
  (bytes: Uint8Array): BytesAt =>
  (from, length) =>
    bytes.subarray(from, from + length)

function readShared(given: Case, bytesAt?: BytesAt) {
  const lines = linesOf(given)
  const { body, table } = bodyOf(lines)
  const bytes = bytesOf(lines, given)
  const from = Math.min(bytes.length, utf8(lines.slice(0, given.split).join(given.end) + given.end).length)
  body.push(bytes.subarray(0, from))
  const rows = body.shareRows(from, bytes.length, given.part)
  if (rows) {
    readSharedRows(rows, bytesAt ?? reading(bytes))
    const end = sharedEnd(rows)
    const fromRow = table.rows
    body.takeShared(end, bytes.subarray(from, end.at))
    for (const [c, extent] of end.extents.entries())
      expect(extent).toEqual(extentIn(table.columns[c]!.values, fromRow, fromRow + end.rows))
    body.push(bytes.subarray(end.at))
    for (const column of table.columns) {
      const told = table.toldExtent(column)
      expect(told).toEqual(column.missing > 0 ? null : extentIn(column.values, 0, table.rows))
    }
    return { read: left(body, table), rows: end.rows }
  }
  body.push(bytes.subarray(from))
  return { read: left(body, table), rows: 0 }
}

test('a log whose rows are read in parts from some line on is read the same', () => {
  let shared = 0
  fc.assert(
    fc.property(cases, given => {
      const { read, rows } = readShared(given)
      if (rows > 0) shared++
      const whole = readWhole(given)
      if (!isDeepStrictEqual(read, whole)) expect(read).toEqual(whole)
    }),
    { numRuns: 400, seed: 20_261_126 },
  )
  expect(shared).toBeGreaterThan(250)
})

const even: Case = { end: '\n', odd: [], split: 61, part: 100, lastEnd: true }

test('all rows are read, up to the end', () => {
  const { read, rows } = readShared(even)
  expect(rows).toBe(60)
  expect(read.rows).toBe(120)
  expect(read.values[0]!.values[60]).toBe(0.6)
})

test('they end before the first row that is none of plain numbers', () => {
  expect(readShared({ ...even, odd: [{ at: 100, line: '# cell changed' }] }).rows).toBe(40)
})

test('they end before the first bytes that cannot be read, and those are read again by who goes on', () => {
  const bytes = bytesOf(linesOf(even), even)
  const { read, rows } = readShared(even, (from, length) => {
    if (from > bytes.length / 2 + 250) throw new Error('a fault of the disk')
    return reading(bytes)(from, length)
  })
  expect(rows).toBeGreaterThan(10)
  expect(rows).toBeLessThan(60)
  expect(read).toEqual(readWhole(even))
})

test('they are not read where a line is still open, or the rows have not begun', () => {
  const { body } = bodyOf(linesOf(even))
  expect(body.shareRows(0, 1000)).toBeNull()
  body.push(utf8('time_s,force_N\n0.00,1\n0.01,2\n0.59,"1\n'))
  expect(body.shareRows(30, 1000)).toBeNull()
})

const PLAIN = { delimiter: 44, decimal: 46, columns: [0, 1] }
const room = (rows: number): Float64Array[] =>
  [0, 1].map(() => new Float64Array(new SharedArrayBuffer(8 * rows)))

/** Some rows of 8 bytes, shared in parts that their lines run across. */
function eightBytes(
  count: number,
  columns: readonly Float64Array[],
): { bytes: Uint8Array; rows: SharedRows } {
  const bytes = utf8(Array.from({ length: count }, (_, i) => `${1000 + i},${i % 10}.\n`).join(''))
  return { bytes, rows: shareRows(PLAIN, columns, 0, bytes.length, 60) }
}

test('where they are more than the room, they end before the part that does not fit', () => {
  const { bytes, rows } = eightBytes(100, room(50))
  readSharedRows(rows, reading(bytes))
  const end = sharedEnd(rows)
  expect(end.rows).toBeGreaterThan(40)
  expect(end.rows).toBeLessThanOrEqual(50)
  expect(end.at).toBe(8 * end.rows)
})

test('a thread that has a part waits for the rows before it, another one goes on in between', async () => {
  const columns = room(100)
  const { bytes, rows } = eightBytes(100, columns)
  // The first part is taken by one that is slow; what it reads is told later.
  const slow = Atomics.add(rows.board, 0, 1)
  expect(slow).toBe(0)
  const worker = new Worker(
    `const { workerData: { board, columns } } = require('node:worker_threads')
     setTimeout(() => {
       for (let i = 0; i < 8; i++) { columns[0][i] = 1000 + i; columns[1][i] = i }
       Atomics.store(board, 5, 8)
       Atomics.notify(board, 5)
     }, 50)`,
    { eval: true, workerData: { board: rows.board, columns } },
  )
  readSharedRows(rows, reading(bytes))
  await once(worker, 'exit')
  expect(sharedEnd(rows)).toMatchObject({ rows: 100, at: 800 })
  expect(Array.from(columns[0]!)).toEqual(Array.from({ length: 100 }, (_, i) => 1000 + i))
})
