import { describe, expect, test } from 'vitest'
import { type LogOptions, partOptions, partsOfLog, readEach, readLog } from '../../../src/logs/index.ts'
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
  test('of long tables too, and lines keep their numbers far down', () => {
    const long = Array.from({ length: 90_000 }, (_, i) => `${i},${i % 7}`).join('\n')
    const text = ['A', 'B', 'C', 'D']
      .map(name => `Specimen ${name}\ntime_ms,load_N\n${long}\nERR 1 2 N\n`)
      .join('\n')
    const read = readEach(utf8(text), 'run.csv').map(({ recording }) =>
      recording.ok ? recording.value : null,
    )
    expect(read.map(r => r?.forceN.length)).toEqual([90_000, 90_000, 90_000, 90_000])
    expect(read.map(r => r?.understood.match(/header in line \d+/)?.[0])).toEqual(
      [2, 90_006, 180_010, 270_014].map(line => `header in line ${line}`),
    )
    expect(read[3]?.assumptions.map(({ text: told }) => told)).toContainEqual(
      expect.stringMatching(/line 360015 “ERR 1 2 N”/),
    )
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

describe('tables side by side', () => {
  const cell = (k: number, i: number): string =>
    i < 40 - 5 * k ? `${(i / 10).toFixed(1)},${(i < 30 ? (peak(k) * i) / 29 : 0).toFixed(2)}` : ','
  const beside = (head: string, between = ','): string =>
    head + Array.from({ length: 40 }, (_, i) => [0, 1, 2].map(k => cell(k, i)).join(between)).join('\n')
  test.each([
    ['a title above each', beside(`Run 4\nP1,,P2,,P3,\n${HEADER},${HEADER},${HEADER}\n`), ['P1', 'P2', 'P3']],
    ['without titles', beside(`${HEADER},${HEADER},${HEADER}\n`), [null, null, null]],
    [
      'named in their columns, units below',
      beside('t_A1,F_A1,t_B2,F_B2,t_C3,F_C3\ns,N,s,N,s,N\n'),
      ['A1', 'B2', 'C3'],
    ],
    ['numbered', beside('Time 1 (s),F 1 (N),Time 2 (s),F 2 (N),Time 3 (s),F 3 (N)\n'), [null, null, null]],
    ['blank columns between', beside(`A,,,B,,,C,\n${HEADER},,${HEADER},,${HEADER}\n`, ',,'), ['A', 'B', 'C']],
    [
      'quoted',
      beside('"A",,"B",,"C",\n"Time, s","F, N","Time, s","F, N","Time, s","F, N"\n'),
      ['A', 'B', 'C'],
    ],
  ])('%s', (_, text, titles) => {
    const read = readEach(utf8(text), 'run.csv')
    expect(read.map(({ part }) => part.title)).toEqual(titles)
    expect(read.map(({ recording }) => recording.ok && recording.value.forceN.length)).toEqual([40, 35, 30])
    expect(read.map(({ recording }) => recording.ok && Math.max(...recording.value.forceN))).toEqual([
      40, 41, 42,
    ])
    // Never joined, nor one of them taken in silence.
    expect(problemsOf(text)[0]).toMatch(/which column is the force is not clear/)
  })
  test.each([
    ['two channels with a clock each', 't1 (s),F (N),t2 (s),x (mm)\n'],
    ['one clock for all', 'Time (s),F1 (N),F2 (N),F3 (N)\n'],
    ['two forces beside one time', 'Time (s),F (N),T (°C),F (kN)\n'],
  ])('%s are one', (_, head) => {
    const text = `${head}${rows(0, (t, f) => `${t},${f},${t},${f / 1000}`)}\n`
    expect(partsOfLog(utf8(text), 'run.csv')).toEqual([])
  })
})

describe('what is kept of a table reads as it read in its file', () => {
  const decimals = (text: string): string => text.replaceAll(',', ';').replaceAll('.', ',')
  const cases: readonly (readonly [string, Uint8Array, LogOptions])[] = [
    ['titles', utf8(tables(['Specimen 1\n', 'Specimen 2\n'])), {}],
    [
      'a rate above all',
      utf8(`Rate: 80 Hz\n${tables(['Specimen 1\n', 'Specimen 2\n']).replaceAll('Time', 'No')}`),
      {},
    ],
    ['a unit above all', utf8(`Unit: kgf\n${tables(['A\n', 'B\n'], 'Time (s),Load')}`), {}],
    ['a clock that starts again', utf8(`${HEADER}\n${[0, 1].map(k => rows(k)).join('\n')}\n`), {}],
    ['decimal commas', utf8(decimals(tables(['Probe 1\n', 'Probe 2\n']))), {}],
    ['UTF-16', utf16(tables(['Prüfling 1\n', 'Prüfling 2\n'])), { encoding: 'utf-16le' }],
    ['options', utf8(tables(['A\n', 'B\n'])), { force: 'Load (N)', unit: 'kN', tension: 'positive' }],
    ['side by side', utf8(`${HEADER},${HEADER}\n${rows(0, (t, f) => `${t},${f},${t},${f / 2}`)}\n`), {}],
  ]
  test.each(cases)('%s', (_, bytes, options) => {
    const parts = readEach(bytes, 'run.csv', options)
    expect(parts).toHaveLength(2)
    for (const { part, recording } of parts) {
      const kept = readLog(utf8(part.text), 'kept.csv', partOptions(options))
      if (!recording.ok || !kept.ok) throw new Error('a table was not read')
      const { timeS, forceN, forceUnit, timeFrom, channels, assumptions } = recording.value
      expect(kept.value).toMatchObject({ timeS, forceN, forceUnit, timeFrom, channels })
      expect(kept.value.assumptions.map(({ code }) => code)).toEqual(assumptions.map(({ code }) => code))
    }
  })
})
