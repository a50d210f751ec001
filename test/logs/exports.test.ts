import { describe, expect, test } from 'vitest'
import { lines, problemsOf, recordingOf } from './support.ts'

/** Invented exports, in shapes that laboratories and loggers write. */
const pull = (i: number): number => (i < 30 ? i + 0.5 : 0.25)
const samples = (row: (t: string, f: string, i: number) => string, count = 60): string =>
  lines(count, i => row((i / 10).toFixed(1), pull(i).toFixed(2), i))
const codes = (log: string, options = {}): string[] =>
  recordingOf(log, options).assumptions.map(({ code }) => code)

describe('columns that only lines above the samples name', () => {
  test.each([
    [
      'numbered, with their units',
      `Rig 7\nSig1 Running Time (s)\nSig2 Stroke (mm)\nSig3 Static Force (kN)\n\n${samples((t, f, i) => `${t}\t${i / 5}\t${f}`)}`,
    ],
    [
      'in a table of channels',
      `No;Name;Unit\n1;Zeit;s\n2;Weg;mm\n3;Kraft;kN\n\n${samples((t, f, i) => `${t};${i / 5};${f}`)}`,
    ],
    [
      'in rows of names and units',
      `Names\tTime\tStroke\tLoad\nUnits\ts\tmm\tkN\n\n${samples((t, f, i) => `${t}\t${i / 5}\t${f}`)}`,
    ],
  ])('%s', (_, log) => {
    const r = recordingOf(log)
    expect(r.forceUnit).toBe('kN')
    expect(r.forceN[29]).toBeCloseTo(29_500)
    expect(r.timeS[10]).toBeCloseTo(1)
    expect(r.channels.map(({ kind }) => kind)).toEqual(['travel'])
    expect(r.understood).toMatch(/columns named in line \d/)
  })
  test('a factor is applied', () => {
    const r = recordingOf(`1;Time;s\n2;Load;N;0.5\n\n${samples((t, f) => `${t};${f}`)}`)
    expect(r.forceN[29]).toBeCloseTo(14.75)
  })
})

describe('which column is the force', () => {
  test.each(['LOAD_X', 'Force X', 'Fx', 'Siła', 'Schubkraft', 'Empuje', 'Тяга', 'thrust'])('“%s”', name => {
    const r = recordingOf(`Time (s),Stroke (mm),${name} (N)\n${samples((t, f, i) => `${t},${i},${f}`)}`)
    expect(r.forceN[29]).toBe(29.5)
  })
  test('of several, the one that goes through a pull; the others are named', () => {
    const log = `t (s),F1 (N),F2 (N),F3 (N)\n${lines(300, i => {
      const noise = (k: number): string => (((i * k) % 7) / 100 - 0.03).toFixed(3)
      return `${i / 50},${noise(3)},${(i < 200 ? i / 4 : 0.1).toFixed(3)},${noise(5)}`
    })}`
    const r = recordingOf(log)
    expect(r.forceN[199]).toBeCloseTo(49.75)
    expect(r.assumptions.map(({ code }) => code)).toEqual(['column-assumed'])
    expect(r.understood).toMatch(/“F1 \(N\)”, column 4 “F3 \(N\)” idle beside it/)
  })
  test('two columns of one name are told apart by a number', () => {
    const log = `t (s),force (N),force (N)\n${samples((t, f, i) => `${t},${f},${(40 - i / 2).toFixed(1)}`)}`
    expect(problemsOf(log)[0]).toMatch(/--force "force \(N\)" or --force "force \(N\) \(2\)"/)
    expect(recordingOf(log, { force: 'force (N) (2)' }).forceN[4]).toBe(38)
  })
  test('last columns that only the first rows fill drop no row', () => {
    const log = `t (s),F (N),camera,marker\n${samples((t, f, i) => `${t},${f},${i < 9 ? i : ''},${i === 0 ? 'start' : ''}`)}`
    const r = recordingOf(log)
    expect(r.timeS).toHaveLength(60)
    expect(r.assumptions).toEqual([])
  })
})

describe('which column is the time', () => {
  test('a rising column without a name whose steps are not those of a clock is asked for', () => {
    const log = lines(60, i => `${(i * i * 0.01).toFixed(3)},${(Math.sqrt(pull(i)) * 9).toFixed(2)}`)
    expect(problemsOf(log)[0]).toMatch(/column 1 rises, but not in the steps of a clock.*--rate.*--time 1/)
    expect(codes(log, { rateHz: 10, unit: 'N' })).toContain('contradiction')
  })
  test('steps of many minutes under a header in seconds are doubted; the unit can be told', () => {
    const log = `Time (s),Load (N)\n${lines(60, i => `${1000 + i * 800},${pull(i)}`)}`
    expect(codes(log)).toEqual(['time-doubtful'])
    const told = recordingOf(log, { timeUnit: 'ms' })
    expect(told.timeS[1]! - told.timeS[0]!).toBeCloseTo(0.8)
    expect(told.assumptions).toEqual([])
  })
  test('minutes and hours', () => {
    expect(recordingOf(`Time (min),F (N)\n${samples((t, f) => `${t},${f}`)}`).timeS[10]).toBeCloseTo(60)
    expect(recordingOf(`Zeit;Kraft\n[h];[N]\n${samples((t, f) => `${t};${f}`)}`).timeS[10]).toBeCloseTo(3600)
  })
})

test('times that go on in another unit are doubted, with the line', () => {
  const log = `time_s,force_N\n${lines(60, i => `${i < 30 ? i / 10 : i * 100},${pull(i)}`)}`
  expect(recordingOf(log).assumptions).toContainEqual({
    code: 'time-doubtful',
    text: expect.stringMatching(/^From line 32 on .* by 1000 times what it did before/),
  })
  // A pause is none.
  const paused = `time_s,force_N\n${lines(60, i => `${i < 30 ? i / 10 : 3000 + i / 10},${pull(i)}`)}`
  expect(recordingOf(paused).assumptions).toEqual([])
})

describe('a greatest load that the file states', () => {
  const body = `Time (s);Load (N)\n${samples((t, f) => `${t};${f}`)}`
  test('agrees, and is told with what was understood', () => {
    const r = recordingOf(`Maximum load;29.5;N\n\n${body}`)
    expect(r.understood).toMatch(/greatest load in line 1, 29\.5 N, agrees/)
    expect(r.assumptions).toEqual([])
  })
  test('differs, and both figures are told', () => {
    const r = recordingOf(`Fmax: 0.295 kN\n\n${body}`)
    expect(r.assumptions.map(({ code }) => code)).toEqual(['stated-maximum-differs'])
    expect(r.assumptions[0]?.text).toMatch(/0\.295 kN.*29\.5 N/)
  })
  test('tells the unit of a log that names none', () => {
    const r = recordingOf(`Maximum load;29.5;lbf\n\n${body.replace(' (N)', '')}`)
    expect(r.forceUnit).toBe('lbf')
  })
})

describe('what is no sample', () => {
  test('a last row of one value in all columns marks the end', () => {
    const r = recordingOf(`s,N\n${samples((t, f) => `${t},${f}`)}9999,9999\n`)
    expect(r.timeS).toHaveLength(60)
    expect(r.assumptions.map(({ code }) => code)).toEqual(['end-mark'])
    expect(r.assumptions[0]?.text).toMatch(/line 62.*9999/)
  })
  test('a list of settings is no series', () => {
    const log = `Width;10;mm\nThickness;2.5;mm\nGauge length;50;mm\nSpeed;5;mm\nLoad cell;1;kN\nArea;25;mm\nPreload;1;N\nBreak;40;N\nModulus;70;N\nYield;12;N\nElongation;3;mm\nTemperature;23;C\n`
    expect(problemsOf(log)[0]).toMatch(/no series of readings in this file: its 12 rows.*“Width”/)
  })
  test('deeply nested JSON is a problem, not a crash', () => {
    const deep = `{"samples":${'['.repeat(50_000)}1${']'.repeat(50_000)}}`
    expect(problemsOf(deep).length).toBeGreaterThan(0)
  })
})

describe('lines that are written otherwise than the rest', () => {
  test('are read where they can be', () => {
    const log = `s;N\n${lines(60, i => (i < 30 ? `${i / 10};${pull(i)}` : `${i / 10},${pull(i)}`))}`
    const r = recordingOf(log)
    expect(r.timeS).toHaveLength(60)
    expect(r.assumptions.map(({ code }) => code)).toEqual(['layout-changes'])
  })
  test('are counted and quoted where they cannot', () => {
    const log = `s,N\n${lines(100, i => (i === 40 ? `ERR ${i / 10} ${pull(i)} N` : `${i / 10},${pull(i)}`))}`
    const [told] = recordingOf(log).assumptions
    expect(told).toMatchObject({
      code: 'lines-not-read',
      lines: { count: 1, first: [{ line: 42, text: 'ERR 4 0.25 N' }] },
    })
  })
  test('are a problem where they are a whole part of the log', () => {
    const log = `s,N\n${lines(100, i => (i >= 50 ? `ERR ${i / 10} ${pull(i)} N` : `${i / 10},${pull(i)}`))}`
    expect(problemsOf(log)[0]).toMatch(/line 52: 50 lines with numbers are written otherwise/)
  })
  test('columns that change their places are a problem', () => {
    const log = lines(100, i => (i < 50 ? `${i / 10},${pull(i)}` : `${pull(i)},${i / 10}`))
    expect(problemsOf(`s,N\n${log}`)[0]).toMatch(/line 5\d: .*changed their places/)
  })
  test('rows that are empty in force and time belong to others', () => {
    const log = `t (s),F (N),T (C)\n${samples((t, f) => `${t},${f},20`)}${lines(20, () => ',,21')}`
    const r = recordingOf(log)
    expect(r.timeS).toHaveLength(60)
    expect(r.assumptions.map(({ text }) => text)).toEqual([
      '20 rows without force and time belong to other columns.',
    ])
  })
})

describe('what scripts print', () => {
  test.each([
    ['bytes as they came', (t: string, f: string) => `${t},b'${f}\\r\\n'`],
    ['rows in brackets', (t: string, f: string) => `(${t}, ${f})`],
    ['cells in quotes and rows in brackets', (t: string, f: string) => `['${t}', '${f}']`],
  ])('%s', (_, row) => {
    const r = recordingOf(samples(row), { time: '1' })
    expect(r.forceN[29]).toBe(29.5)
    expect(r.timeS).toHaveLength(60)
  })
  test('a row of units that ends in an empty cell', () => {
    const r = recordingOf(`time;force;marker\ns;kN;\n${samples((t, f, i) => `${t};${f};${i}`)}`)
    expect(r.forceUnit).toBe('kN')
  })
})
