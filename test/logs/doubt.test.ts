import { describe, expect, test } from 'vitest'
import { N_PER } from '../../src/core/units/force.ts'
import { openLog } from '../../src/logs/index.ts'
import { lines, problemsOf, recordingOf, utf8 } from './support.ts'

/**
 * Logs whose structure is open to more than one reading: what is said of them, and that no row is lost in
 * silence.
 */
const pull = (i: number): number => (i <= 30 ? i : 0)
const rows = (
  from: number,
  to: number,
  row = (i: number) => `${(i / 10).toFixed(1)},${pull(i).toFixed(2)}`,
) => lines(to - from, i => row(from + i))
const blanks = (text: string): string => text.replaceAll(',', ' ')
const codes = (log: string) => recordingOf(log).assumptions.map(({ code }) => code)

describe('a line of words among the samples', () => {
  const head = 'time_s,force_kg\n'
  const commas = [
    'snap, heard',
    '# snap, heard',
    '; a, b',
    '"snap","heard"',
    'note, snap heard',
    'Event,Break',
    'time,load',
  ]
  test.each(commas)('“%s” is no new header', note => {
    const r = recordingOf(`${head}${rows(0, 36)}${note}\n${rows(36, 120)}`)
    expect(r.timeS).toHaveLength(120)
    expect(r.forceN[30]).toBeCloseTo(30 * N_PER.kgf)
    expect(r.understood).toMatch(/header in line 1;/)
  })
  test.each(['snap heard', '# snap heard', '// clamp adjusted', 'no load', 'load cell'])(
    '“%s” is no new header between blanks',
    note => {
      const r = recordingOf(blanks(`${head}${rows(0, 36)}${note}\n${rows(36, 120)}`))
      expect(r.timeS).toHaveLength(120)
      expect(r.timeS[119]).toBeCloseTo(11.9)
    },
  )
  test('is none in a log without a header, whatever its last word', () => {
    const row = (i: number) => `${(i / 10).toFixed(1)} ${pull(i).toFixed(2)} kg`
    const r = recordingOf(`${rows(0, 12, row)}zero set now\n${rows(12, 60, row)}`)
    expect(r.timeS).toHaveLength(60)
    expect(r.forceUnit).toBe('kgf')
    expect(r.notes.map(({ text }) => text)).toEqual(['zero set now'])
  })
  test('names the columns of a capture that began before it', () => {
    const r = recordingOf(`${rows(5, 40)}time_s,force_kg\n${rows(0, 40)}`)
    expect(r.timeS).toHaveLength(75)
    expect(r.forceUnit).toBe('kgf')
    expect(r.segments).toHaveLength(2)
  })
})

test('bytes that come in pieces are one table: a second header of another meaning is a problem of its line', () => {
  const log = openLog('log.csv')
  log.push(utf8(`ms,kg\n${lines(40_000, i => `${i * 100},${pull(i % 60)}`)}`))
  log.push(utf8(`ms,lb\n${lines(40, i => `${i * 100},${pull(i)}`)}`))
  const read = log.finish()
  expect(read).toMatchObject({
    ok: false,
    problems: [{ where: 'log.csv, line 40002', what: expect.stringMatching(/the header “ms,lb” gives/) }],
  })
})

describe('rows of numbers above the header of the samples', () => {
  test('are told in the line of what was understood', () => {
    const log = `Fmax,Fbreak,Emod\n1234.5,1100,300\n1.0,2.0,3.0\n\nTime (s),Force (kN),Ext (mm)\n${rows(0, 40, i => `${i / 10},${pull(i)},${i / 5}`)}`
    expect(recordingOf(log).understood).toMatch(/kN.*2 rows above the samples \(lines 2 to 3\)/)
  })
  test('are told as left out where they are many', () => {
    const log = `No,Peak\n${lines(12, i => `${i + 1},${20 + i}`)}\ntime_s,force_N\n${rows(0, 40)}`
    expect(codes(log)).toEqual(['rows-skipped'])
  })
})

describe('a status beside the value is text', () => {
  const frame = (i: number): string => `${i < 12 || i > 33 ? 'ST' : 'US'},GS,+${pull(i).toFixed(3)},kg`
  test.each([
    ['changing', (i: number) => `${(i / 20).toFixed(2)},${frame(i)}`],
    ['unstable throughout', (i: number) => `${(i / 20).toFixed(2)},US,GS,+${pull(i).toFixed(3)},kg`],
    ['between blanks', (i: number) => blanks(`${(i / 20).toFixed(2)},${frame(i)}`)],
  ])('%s', (_, row) => {
    const r = recordingOf(lines(60, row))
    expect(r.timeS).toHaveLength(60)
    expect(r.timeS[59]! - r.timeS[0]!).toBeCloseTo(2.95)
    expect(r.forceN[30]).toBeCloseTo(30 * N_PER.kgf)
  })
})

describe('two columns of force', () => {
  const two = (names: string, k: number, digits = 2) =>
    `t_s,${names}\n${lines(60, i => `${i / 10},${pull(i).toFixed(digits)},${(pull(i) * k).toFixed(digits)}`)}`
  test('that share a load are a question, however alike they run', () => {
    const asked = /column is the force is not clear: it may be column 2 .*, column 3 .*Say which/
    expect(problemsOf(two('left_N,right_N', 0.94))[0]).toMatch(asked)
    expect(problemsOf(two('front N,rear kg', 1.06))[0]).toMatch(asked)
    expect(problemsOf(two('left_N,sum_N', 2))[0]).toMatch(asked)
    expect(recordingOf(two('left_N,right_N', 0.94), { force: 'right_N' }).forceN[30]).toBeCloseTo(28.2)
  })
  test('that are one force in two units are none', () => {
    const r = recordingOf(two('force_kgf,force_N', 9.80665))
    expect(r.forceUnit).toBe('kgf')
    expect(r.understood).toMatch(/“force_N” is kept beside it/)
  })
})

describe('the unit in a cell of its own', () => {
  const log = (head: string, row: (i: number) => string) => `${head}\n${lines(60, row)}`
  test.each([
    ['before the value', log('t,unit,val', i => `${i / 10},lbf,${pull(i)}`)],
    ['behind another column', log('t,val,temp,uom', i => `${i / 10},${pull(i)},21.5,lbf`)],
    ['behind the value', log('t,val,uom', i => `${i / 10},${pull(i)},lbf`)],
  ])('%s', (_, text) => {
    const r = recordingOf(text)
    expect(r.forceUnit).toBe('lbf')
    expect(r.assumptions).toEqual([])
    expect(r.forceN[30]).toBeCloseTo(30 * N_PER.lbf)
  })
})

describe('the unit that stands elsewhere in JSON', () => {
  const each = (sample: (i: number) => unknown) => lines(60, i => JSON.stringify(sample(i)))
  const forces = Array.from({ length: 60 }, (_, i) => pull(i))
  test.each([
    ['in the name of the only array', JSON.stringify({ rig: 'me', force_lbf: forces })],
    ['beside a value of no telling name', each(i => ({ ts: i / 10, value: pull(i), unit: 'lbf' }))],
    ['within the force', each(i => ({ t: i / 10, force: { value: pull(i), unit: 'lbf' } }))],
    ['in a first line', `{"unit":"lbf","rate":20}\n${each(i => ({ t: i / 10, f: pull(i) }))}`],
  ])('%s', (_, log) => {
    const r = recordingOf(log, log.includes('rig') ? { rateHz: 10 } : {})
    expect(r.timeS).toHaveLength(60)
    expect(r.forceUnit).toBe('lbf')
    expect(r.forceN[30]).toBeCloseTo(30 * N_PER.lbf)
    expect(r.assumptions).toEqual([])
  })
})

describe('the unit of time that the log states beside its samples', () => {
  const time = Array.from({ length: 60 }, (_, i) => i * 50)
  test.each([
    [
      'in an object of units',
      JSON.stringify({ units: { time: 'us', force: 'N' }, time, force: time.map((_, i) => pull(i)) }),
    ],
    [
      'under a key',
      JSON.stringify({ time_unit: 'us', data: time.map((t, i) => ({ time: t, force_N: pull(i) })) }),
    ],
    ['in each line', lines(60, i => JSON.stringify({ time: i * 50, time_unit: 'us', force_N: pull(i) }))],
    ['in a comment', `# time is in us\ntime,force_N\n${lines(60, i => `${i * 50},${pull(i)}`)}`],
  ])('%s', (_, log) => {
    const r = recordingOf(log)
    expect(r.timeS[59]).toBeCloseTo(59 * 50e-6, 9)
    expect(r.assumptions).toEqual([])
  })
  test('is assumed aloud from the size of numbers that are a date', () => {
    const epoch = recordingOf(
      `timestamp,kg\n${lines(60, i => `${1_700_000_000 + Math.floor(i / 20)}${String((i % 20) * 50_000_000).padStart(9, '0')},${pull(i)}`)}`,
    )
    expect(epoch.timeS[59]).toBeCloseTo(2.95, 5)
    expect(epoch.assumptions.map(({ code }) => code)).toEqual(['time-unit-assumed'])
    const sheet = recordingOf(
      `time,F (N)\n${lines(60, i => `${(45_321.5 + i / 20 / 86_400).toFixed(11)},${pull(i)}`)}`,
    )
    expect(sheet.timeS[59]! - sheet.timeS[0]!).toBeCloseTo(2.95, 3)
    expect(sheet.assumptions.map(({ code }) => code)).toEqual(['time-unit-assumed'])
  })
})

describe('a unit is not taken for what it does not say', () => {
  const of = (head: string) => `${head}\n${lines(40, i => `${i / 10},${pull(i)}`)}`
  test.each([
    'force (10 N)',
    'force (N/10)',
    'force (0.01kg)',
    'force_N/10',
    'Load cell 500kg',
    'force (N/A)',
  ])('“%s” is told as none', name => {
    const r = recordingOf(of(`time (s),${name}`))
    expect(r.forceUnit).toBeNull()
    expect(r.forceN[30]).toBe(pull(30))
    expect(r.assumptions.map(({ code }) => code)).toEqual(['unit-not-told'])
  })
  test.each([
    ['force (x10 N)', 'N', 10],
    ['force (N x 10)', 'N', 10],
    ['force (N*10)', 'N', 10],
    ['force x10N', 'N', 10],
    ['Kraft [daN]', 'N', 10],
    ['force (cN)', 'N', 0.01],
    ['force_MN', 'kN', 1e6],
  ])('“%s” is a multiple of %s', (name, unit, newton) => {
    const r = recordingOf(of(`time (s),${name}`))
    expect(r.forceUnit).toBe(unit)
    expect(r.forceN[30]).toBeCloseTo(pull(30) * newton)
    expect(r.assumptions).toEqual([])
  })
  test('a load on an area is no force', () => {
    expect(problemsOf(of('time (s),force (kg/cm2)'))[0]).toMatch(/column 2 “force \(kg\/cm2\)” is in kg\/cm2/)
  })
  test.each(['force (cell 2) (N)', 'Ch1 Load (N)', 'F1_N', 'load2 (N)', 'force N'])(
    '“%s” is newton',
    name => {
      expect(recordingOf(of(`time (s),${name}`)).forceUnit).toBe('N')
    },
  )
  test.each([
    'Capacity: 50 kg',
    'Speed: 100 g',
    'Tare,0,g',
    'Reference force: NaN mN',
    'Calibration: N/A',
    'Stiffness N/mm',
  ])('“%s” above the samples tells no unit of theirs', line => {
    const r = recordingOf(of(`${line}\ntime (s),force`))
    expect(r.forceUnit).toBeNull()
    expect(r.assumptions.map(({ code }) => code)).toEqual(['unit-not-told'])
  })
  test('a unit said as such counts before any quantity', () => {
    const r = recordingOf(of('Capacity: 50 kg\nUnit: lbf\ntime (s),force'))
    expect(r.forceUnit).toBe('lbf')
    expect(r.assumptions).toEqual([])
  })
  test.each(['Travel (mm)', 'Temperature (C)'])('“%s” alone is no force', name => {
    expect(problemsOf(of(`time (s),${name}`))[0]).toMatch(
      /no column of force: column 2 .* is one of (?:travel|temp)/,
    )
  })
})

describe('decimal marks of two kinds in one column', () => {
  const switched = lines(60, i => {
    const row = `${(i / 20).toFixed(3)};${(12.25 + pull(i)).toFixed(3)}`
    return i < 30 ? row.replaceAll('.', ',') : row
  })
  test('are an error with its line', () => {
    expect(problemsOf(`s;kg\n${switched}`)[0]).toMatch(
      /^log\.csv, line 32: “42\.250” in column 2 “kg” may be a thousand or a decimal.*--decimal comma/,
    )
  })
  test('are read as told', () => {
    const grouped = lines(40, i => `${i},${i % 2 ? '0' : '5'};${i === 20 ? '1.234' : '999,5'}`)
    expect(recordingOf(`s;N\n${grouped}`, { decimal: 'comma' }).forceN[20]).toBe(1234)
  })
})

test('a last row that steps back in time is left out aloud', () => {
  const r = recordingOf(`time (s);force (kg)\n${lines(40, i => `${i / 10};${pull(i)}`)}-1;-99999\n`)
  expect(r.timeS).toHaveLength(40)
  expect(r.assumptions).toEqual([
    { code: 'rows-skipped', text: 'The last row (line 42) steps back in time and was left out.' },
  ])
})

test('letters in a time make its row unreadable, told like one of the force', () => {
  const r = recordingOf(`time_s,force_N\n${lines(40, i => `${i === 7 ? '0.7O' : i / 10},${pull(i)}`)}`)
  expect(r.timeS).toHaveLength(39)
  expect(r.assumptions).toEqual([
    { code: 'rows-skipped', text: expect.stringMatching(/line 9 “time 0\.7 O”/) },
  ])
})
