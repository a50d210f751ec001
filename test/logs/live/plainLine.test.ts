import fc from 'fast-check'
import { expect, test } from 'vitest'
import { createLineReader, type LineItem, type LineReader, type LogOptions } from '../../../src/logs/index.ts'
import { utf8 } from '../support.ts'

/** The items of lines, each tried as one like the last first, as a capture does; and how many were. */
function quick(lines: readonly string[], options: LogOptions): { items: LineItem[]; alike: number } {
  const reader = createLineReader(options)
  let alike = 0
  let line = 0
  const items = lines.flatMap((text): LineItem[] => {
    const bytes = utf8(text)
    const sample = reader.alike(bytes, 0, bytes.length)
    line++
    if (sample === null) return reader.line(bytes, 0, bytes.length, line)
    alike++
    return [{ kind: 'sample', line, arrivedS: line, ...sample, values: [...Array.from(sample.values)] }]
  })
  return { items, alike }
}
const inFull = (reader: LineReader, lines: readonly string[]): LineItem[] =>
  lines.flatMap((text, i) => reader.line(utf8(text), 0, utf8(text).length, i + 1))

const same = (lines: readonly string[], options: LogOptions = {}): number => {
  const { items, alike } = quick(lines, options)
  expect(items).toEqual(inFull(createLineReader(options), lines))
  return alike
}

test.each([
  ['a value alone', (i: number) => `${i * 0.25}`],
  ['a value with its unit', (i: number) => `${(i / 100).toFixed(2)} kg`],
  ['a unit that stands at the number', (i: number) => `${-i}N`],
  ['time and force', (i: number) => `${i * 12},${(i / 8).toFixed(3)}`],
  [
    'blanks that set numbers to the right',
    (i: number) => `${String(i * 12).padStart(9)}  ${String(i / 8).padStart(8)}`,
  ],
  ['tabs', (i: number) => `${i}\t${i / 4}\t21.5`],
  ['decimal commas', (i: number) => `${i * 10};${(i / 8).toFixed(3).replace('.', ',')}`],
  ['more digits than 32 bits hold', (i: number) => `${9_007_199_254_000 + i * 1000},${(i / 7).toFixed(10)}`],
])('%s: as in full, and nearly all of them quickly', (_, form) => {
  const lines = Array.from({ length: 200 }, (_, i) => form(i + 1))
  const alike = same(lines)
  // Where digits come and go (`0.5`, `1`), nothing but the numbers changes all the same.
  expect(alike).toBeGreaterThan(185)
})

test('what is of another make is never taken for alike', () => {
  const odd = [
    '12,3.5',
    '24,3.5,7',
    '36',
    '',
    '48,',
    '60,OL',
    '72,3.5 kg',
    '84,-',
    '96,1e3',
    '108,3.',
    '120,.5',
    '132,"3.5"',
    '144;3.5',
    '156,3,5',
    't_ms,force_N',
    '168, 3.5',
    '180,+3.5',
    '192,−3.5',
    '204,1234567890123456.5',
    '# 216,3.5',
    '12:00:01,3.5',
    '228 , 3.5 ',
    'reset',
    '240,3.5',
  ]
  same(['t_ms,force_N', '0,1.5', ...odd.flatMap(line => ['1,2.5', line])])
  same(['1,234 N', '1,234 N', '2,345 N', '5 N', '1,234 N'])
  same(['10.5 N', '900 g', '1 kg', '2 kg', '2 lb', '3', '4 N'])
})

const cell = fc.oneof(
  { weight: 6, arbitrary: fc.integer({ min: -99_999, max: 99_999 }).map(n => (n / 100).toFixed(2)) },
  { weight: 2, arbitrary: fc.integer({ min: 0, max: 1e9 }).map(String) },
  {
    weight: 1,
    arbitrary: fc.constantFrom(
      '',
      'OL',
      '1e3',
      '1,5',
      'kg',
      '-',
      '5 N',
      '5N',
      '007',
      '+2',
      '2.',
      '.5',
      '"3"',
    ),
  },
)

test('any lines in any order mean the same either way', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(',', ';', '\t', ' ', ' | '),
      fc.array(fc.array(cell, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 40 }),
      fc.constantFrom({}, { unit: 'N' as const }, { decimal: 'comma' as const }, { force: '2' }),
      (delimiter, rows, options) => {
        const first = ['1', '2', '3', '4', '5', '6', '7', '8'].map(n => [n, '2.5', '3'].join(delimiter))
        same([...first, ...rows.map(cells => cells.join(delimiter))], options)
      },
    ),
    { seed: 6, numRuns: 300 },
  )
})

test('further columns of numbers come with each sample, lengths in mm', () => {
  const lines = ['t_ms,force_N,travel_cm,temp_C', '0,1.5,1,21', '10,1.75,2,21.5', '20,1.8,3,21.5', '30,2,,22']
  const { items, alike } = quick(lines, {})
  expect(alike).toBe(1)
  const samples = items.flatMap(item => (item.kind === 'sample' ? [item] : []))
  expect(samples[0]?.channels).toMatchObject([{ kind: 'travel', unit: 'mm' }, { kind: 'temperature' }])
  expect(samples.map(({ values }) => Array.from(values))).toEqual([
    [10, 21],
    [20, 21.5],
    [30, 21.5],
    [Number.NaN, 22],
  ])
  expect(samples[1]?.channels).toBe(samples[0]?.channels)
})
