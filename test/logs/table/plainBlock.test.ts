import { isDeepStrictEqual } from 'node:util'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { understandLayout } from '../../../src/logs/lines/layout.ts'
import { LogBody } from '../../../src/logs/logBody.ts'
import { readPlainBlock } from '../../../src/logs/table/plainBlock.ts'
import { SampleTable } from '../../../src/logs/table/sampleTable.ts'
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
  /** Line that the rows apart begin with, and how many rows are expected before them. */
  readonly split: number
  readonly before: number
  /** Most bytes that are read at once. */
  readonly chunk: number
  readonly lastEnd: boolean
}

const LINES = 120

const cases: fc.Arbitrary<Case> = fc.record({
  end: fc.constantFrom('\n', '\n', '\r\n'),
  odd: fc.array(fc.record({ at: fc.nat(LINES), line: fc.constantFrom(...oddLines) }), { maxLength: 4 }),
  split: fc.integer({ min: 2, max: LINES }),
  before: fc.integer({ min: 0, max: 2 * LINES }),
  chunk: fc.integer({ min: 5, max: 3000 }),
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

function readSplit(given: Case) {
  const lines = linesOf(given)
  const { body, table } = bodyOf(lines)
  const bytes = bytesOf(lines, given)
  const from = utf8(lines.slice(0, given.split).join(given.end) + given.end).length
  const room = body.roomBehind(given.before)
  if (!room) throw new Error('no plain rows')
  const block = readPlainBlock(room, place =>
    bytes.subarray(from + place, Math.min(bytes.length, from + place + given.chunk)),
  )
  body.push(bytes.subarray(0, from))
  body.push(bytes.subarray(body.takeBlock(block) ? from + block.bytes : from))
  return { read: left(body, table), block }
}

test('a log whose rows are read apart from some line on is read the same', () => {
  let apart = 0
  fc.assert(
    fc.property(cases, given => {
      const { read, block } = readSplit(given)
      if (block.rows > 0) apart++
      const whole = readWhole(given)
      if (!isDeepStrictEqual(read, whole)) expect(read).toEqual(whole)
    }),
    { numRuns: 300, seed: 20_261_125 },
  )
  expect(apart).toBeGreaterThan(200)
})

const even: Case = { end: '\n', odd: [], split: 61, before: 80, chunk: 100, lastEnd: true }

test('rows are read apart into the room that is given, up to the end', () => {
  const { read, block } = readSplit(even)
  expect(block).toMatchObject({ columns: null, rows: 60 })
  expect(read.rows).toBe(120)
  expect(read.values[0]!.values[60]).toBe(0.6)
})

test('they stop before the first row that is none of plain numbers', () => {
  const { block } = readSplit({ ...even, odd: [{ at: 100, line: '# cell changed' }] })
  expect(block.rows).toBe(40)
  expect(new TextDecoder().decode(block.tail).trimEnd().split('\n').at(-1)).toBe(plain(99))
})

test('where they are more than the room, they bring their own memory', () => {
  const { block, read } = readSplit({ ...even, before: 4096 - 10 })
  expect(block.rows).toBe(60)
  expect(block.columns).toHaveLength(2)
  expect(read).toEqual(readWhole(even))
})

test('where the rows before them are more than was expected, they are still found', () => {
  expect(readSplit({ ...even, before: 5 }).read).toEqual(readWhole(even))
})

test('they do not follow a line that is still open', () => {
  const given = { ...even, odd: [{ at: 59, line: '0.59,"1' }] }
  const { body } = bodyOf(linesOf(given))
  body.push(utf8('time_s,force_N\n0.00,1\n0.01,2\n0.59,"1\n'))
  const room = body.roomBehind(10)!
  expect(body.takeBlock(readPlainBlock(room, place => utf8('0.60,2\n').subarray(place)))).toBe(false)
})
