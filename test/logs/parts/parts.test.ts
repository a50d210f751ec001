import { describe, expect, test } from 'vitest'
import { partsOfLog, readEach } from '../../../src/logs/index.ts'
import { problemsOf, recordingOf, utf8, utf16 } from '../support.ts'

const HEADER = 'Time (s),Load (N)'
const peak = (k: number): number => 40 + k
/** A pull to 40 + k, forty rows at ten a second. */
const rows = (k: number, row = (t: number, f: number): string => `${t.toFixed(1)},${f.toFixed(2)}`): string =>
  Array.from({ length: 40 }, (_, i) => row(i / 10, i < 30 ? (peak(k) * i) / 29 : 0)).join('\n')
const tables = (titles: readonly string[], header = HEADER): string =>
  titles.map((title, k) => `${title}${header}\n${rows(k)}\n`).join('\n')

const titlesOf = (text: string): (string | null)[] =>
  partsOfLog(utf8(text), 'run.csv').map(({ title }) => title)
const peaksOf = (text: string): (number | null)[] =>
  readEach(utf8(text), 'run.csv').map(({ recording }) =>
    recording.ok ? Math.round(Math.max(...recording.value.forceN)) : null,
  )

describe('tables of one file', () => {
  test.each([
    [
      'a title each',
      tables(['Specimen 1\n', 'Specimen 2\n', 'Specimen 3\n']),
      ['Specimen 1', 'Specimen 2', 'Specimen 3'],
    ],
    ['a named cell each', tables(['Probe;A1\n\n', 'Probe;B7\n\n']), ['A1', 'B7']],
    ['a comment each', tables(['# --- left ---\n', '# --- right ---\n']), ['left', 'right']],
    [
      'the title that differs, not the one that does not',
      tables(['Data\nSample: A\n', 'Data\nSample: B\n']),
      ['Sample: A', 'Sample: B'].map(t => t.slice(8)),
    ],
    ['none', tables(['', '', '']), [null, null, null]],
    ['what a device says when it starts is no name', tables(['boot 1\n', 'boot 2\n']), [null, null]],
    ['a date is no name', tables(['2026-01-02 12:00\n', '2026-01-02 12:05\n']), [null, null]],
  ])('%s', (_, text, titles) => {
    expect(titlesOf(text)).toEqual(titles)
    expect(peaksOf(text)).toEqual(titles.map((_, k) => peak(k)))
  })
  test('a clock that starts again without a header', () => {
    const text = `${HEADER}\n${[0, 1, 2].map(k => rows(k)).join('\n')}\n`
    expect(peaksOf(text)).toEqual([40, 41, 42])
    const whole = recordingOf(text)
    expect(whole.segments.map(({ began }) => began)).toEqual(['start', 'reset', 'reset'])
    expect(whole.understood).toMatch(/3 pieces, for the clock starts again/)
  })
  test('a table of results above is none of them; what it states belongs to all', () => {
    const text = `Results\nSpecimen,Max Load (N)\nA,40\nB,41\n\n${tables(['Specimen A\n', 'Specimen B\n'])}`
    expect(titlesOf(text)).toEqual(['Specimen A', 'Specimen B'])
    expect(
      readEach(utf8(text), 'run.csv').map(({ recording }) => recording.ok && recording.value.understood),
    ).toEqual([
      expect.stringMatching(/greatest load in line 3, 40 N, agrees/),
      expect.stringMatching(/greatest load in line 4, 41 N, agrees/),
    ])
  })
  test('lines keep their numbers in what is told of a table', () => {
    const text = tables(['Specimen 1\n', 'Specimen 2\n']).replace(/2\.0,28\.28/, 'ERR 2.0 28.28 N')
    const [, second] = readEach(utf8(text), 'run.csv')
    expect(second?.part.firstLine).toBe(44)
    expect(second?.name).toBe('run.csv · Specimen 2')
    expect(second?.recording.ok && second.recording.value.assumptions[0]?.text).toMatch(/line 66 “ERR 2\.0/)
  })
  test('in another encoding too', () => {
    expect(partsOfLog(utf16(tables(['Specimen 1\n', 'Specimen 2\n'])), 'run.csv')).toHaveLength(2)
  })
  test.each([
    ['one table', tables(['Specimen 1\n'])],
    ['a mere repeated word', `${HEADER}\n${rows(0)}\nno load this time\n`],
    ['nothing', ''],
    ['JSON', '{"t":1,"f":2}'],
  ])('%s is not taken apart', (_, text) => {
    expect(partsOfLog(utf8(text), 'run.csv')).toEqual([])
  })
})

describe('tables that name their columns otherwise are each read by their own header', () => {
  const first = `${HEADER}\n${rows(0)}\n`
  const rest = (row: (t: number, f: number) => string): string => rows(5, row)
  test.each([
    ['another unit', `Time (s),Load (kN)\n${rest((t, f) => `${t + 4},${f / 1000}`)}`],
    ['another order', `Load (N),Time (s)\n${rest((t, f) => `${f},${t + 4}`)}`],
    [
      'more columns and milliseconds',
      `t_ms,Temp (C),Load (N)\n${rest((t, f) => `${t * 1000 + 4000},21,${f}`)}`,
    ],
    [
      'another separator and mark',
      `Time (s);Load (kN)\n${rest((t, f) => `${t + 4};${f / 1000}`.replaceAll('.', ','))}`,
    ],
    ['units in a row of their own', `Time (s),Load (N)\ns,kN\n${rest((t, f) => `${t + 4},${f / 1000}`)}`],
  ])('%s', (_, second) => {
    const r = recordingOf(first + second)
    expect(r.forceN).toHaveLength(80)
    expect(Math.max(...r.forceN)).toBeCloseTo(45, 3)
    expect(r.timeS[79]).toBeCloseTo(7.9)
    // The clock goes on: one piece.
    expect(r.segments).toHaveLength(1)
    expect(r.assumptions.filter(({ code }) => code === 'layout-changes').map(({ text }) => text)).toEqual([
      expect.stringMatching(/^From line 42 on another header, “.*”, names the columns/),
    ])
  })
  test('in pieces where the clock starts again', () => {
    const r = recordingOf(`${first}Time (s),Load (kN)\n${rest((t, f) => `${t},${f / 1000}`)}`)
    expect(r.segments.map(({ from, began }) => [from, began])).toEqual([
      [0, 'start'],
      [40, 'reset'],
    ])
  })
  test('not where one of them cannot be read: the problem names its line', () => {
    expect(problemsOf(`${first}Time (s),Load (stone)\n${rest((t, f) => `${f},${t % 1}`)}`)[0]).toMatch(
      /line 42/,
    )
  })
})
