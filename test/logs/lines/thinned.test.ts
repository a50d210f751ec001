import { describe, expect, test } from 'vitest'
import { understandLayout } from '../../../src/logs/lines/layout.ts'
import { thinnedLines } from '../../../src/logs/lines/thinned.ts'

const rows = (count: number, row: (i: number) => string): string[] =>
  Array.from({ length: count }, (_, i) => row(i))
const plain = (i: number): string => `${(i / 100).toFixed(2)},${(i % 97).toFixed(3)}`

const logs: Readonly<Record<string, readonly string[]>> = {
  'a header and rows': ['time,force (kgf)', ...rows(3000, plain)],
  'decimal commas': ['Zeit;Kraft', ...rows(3000, i => plain(i).replace(',', ';').replaceAll('.', ','))],
  'clock stamps': ['t\tF [N]', ...rows(3000, i => `12:${String(10 + (i % 50))}:03.250\t${i}.5`)],
  'blank lines between rows': ['t,F', ...rows(3000, plain).flatMap(row => [row, ''])],
  'results before the record': [
    'no,peak,n',
    ...rows(40, i => `${i + 1},${i}.25,7`),
    '',
    'ms,N,mm',
    ...rows(3000, i => `${i},${i % 80}.1,0.5`),
  ],
  'the record first': [
    'ms,N,mm',
    ...rows(3000, i => `${i},2.1,0.5`),
    'no,peak,n',
    ...rows(900, i => `${i},3.25,7`),
  ],
  'a word in every row': ['t,F', ...rows(3000, i => `${i},${i}.5 kg`)],
  'banners among the rows': rows(3000, i => (i % 500 === 0 ? 'ready' : plain(i))),
  'months first': ['date,F', ...rows(3000, i => `05/${String(1 + (i % 28)).padStart(2, '0')}/2026,${i}.5`)],
}

describe('the lines by which a layout is settled', () => {
  test.each(Object.entries(logs))('settle it as all of them do: %s', (_, lines) => {
    const thinned = thinnedLines(lines)
    expect(thinned).toHaveLength(lines.length)
    expect(understandLayout(thinned, {})).toEqual(understandLayout(lines, {}))
  })

  test('are few where all are figures, and never change', () => {
    const lines = logs['a header and rows']!
    const kept = thinnedLines(lines).flatMap((line, i) => (line === '' ? [] : [{ line, i }]))
    expect(kept.length).toBeLessThan(220)
    expect(kept.every(({ line, i }) => line === lines[i])).toBe(true)
    expect(kept[0]?.line).toBe('time,force (kgf)')
  })

  test('are all of them in a short log, and where words stand in every line', () => {
    expect(thinnedLines(rows(300, plain))).toEqual(rows(300, plain))
    expect(thinnedLines(logs['a word in every row']!)).toEqual(logs['a word in every row'])
  })
})
