import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { makePull } from '../../../src/capture/pretend/index.ts'
import { EXIT } from '../../../src/cli/io.ts'
import { type Comparison, comparisonSchema } from '../../../src/core/statistics/document.ts'
import { writeCsv } from '../../../src/logs/index.ts'
import { ran } from '../fakeIo.ts'

let folder = ''
const at = (name: string) => join(folder, name)
const write = (name: string, ...lines: string[]) => {
  writeFileSync(at(name), `${lines.join('\n')}\n`)
  return at(name)
}
const documentOf = (out: string): Comparison => comparisonSchema.parse(JSON.parse(out))
const logs: string[] = []

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-compare-'))
  for (const [variant, kind] of [
    ['hot-melt', 'brittle'],
    ['paste', 'pull-out'],
  ] as const)
    for (let n = 1; n <= 3; n++) {
      const { recording } = makePull({ kind: kind, seed: n })
      writeFileSync(at(`${variant}-${n}.csv`), [...writeCsv(recording, { unit: 'kgf' })].join(''))
      logs.push(at(`${variant}-${n}.csv`))
    }
}, 120_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const VALUES = [
  'variant,peak (kgf)',
  'paste,6.1',
  'paste,5.4',
  'paste,6.3',
  'stitch,8.9',
  'stitch,9.7',
  'stitch,8.1',
]

describe('a table', () => {
  test('by its usual columns: the answer in one breath first, the document in newton', async () => {
    const table = write('values.csv', ...VALUES)
    const text = await ran(['compare', '--table', table])
    expect(text.code).toBe(EXIT.ok)
    expect(text.out).toMatch(
      /^Stitch holds most\.\n1st +stitch +8\.9 ± 2\.0 kgf +3\.0 more than paste \(1\.\d to 4\.\d\)\n2nd +paste +5\.9 ± 1\.2 kgf\nOnly 3 of each: [^\n]*\nNext: /,
    )
    expect(text.out).toMatch(/^stitch holds more than paste: by 3.0 kgf \(29 N\)/m)
    expect(text.err).toMatch(/groups from “variant”, values from “peak \(kgf\)” in kgf, 6 rows/)
    const { out } = await ran(['compare', '--table', table, '--json'])
    const document = documentOf(out)
    expect(document).toMatchObject({ unit: 'N', quantity: 'peak' })
    expect(document.groups[0]!.mean).toBeCloseTo(((6.1 + 5.4 + 6.3) / 3) * 9.80665, 9)
  })
  test('the check value: 6.513 to 13.487', async () => {
    const table = write('one.csv', 'group,value', 'a,11.46', 'a,8.66', 'a,9.88')
    const { out, code } = await ran(['compare', '--table', table, '--json'])
    expect(code).toBe(EXIT.ok)
    const { groups, warnings } = documentOf(out)
    expect(groups[0]!.ci95!.map(v => v.toFixed(3))).toEqual(['6.513', '13.487'])
    expect(warnings.map(w => w.code)).toContain('one-group')
  })
  test('a column for each group, of unequal length, with a decimal comma', async () => {
    const table = write('wide.csv', 'paste;stitch', '6,1;8,9', '5,4;9,7', '6,3;')
    const document = documentOf((await ran(['compare', '--table', table, '--json'])).out)
    expect(document.groups.map(g => [g.name, g.n, g.max])).toEqual([
      ['paste', 3, 6.3],
      ['stitch', 2, 9.7],
    ])
  })
  test('bounds, missing values, doubts, modes and dropped ones from their columns', async () => {
    const table = write(
      'full.csv',
      'specimen,variant,peak N,doubt,mode,day,order,dropped,width_mm',
      'p1,paste,60,2,peel,mon,1,,20',
      'p2,paste,>66,2,tear,tue,3,,20',
      'p3,paste,,,,tue,5,,20',
      's1,stitch,88,2,thread,mon,2,,20',
      's2,stitch,20,2,thread,tue,4,slipped,20',
      's3,stitch,91,2,thread,tue,6,,20',
    )
    const args = ['compare', '--table', table, '--group', 'variant', '--value', 'peak N', '--unit', 'N']
    const document = documentOf((await ran([...args, '--json', '--block', 'day'])).out)
    expect(document.specimens.map(s => [s.name, s.status, s.value, s.dropped])).toEqual([
      ['p1', 'measured', 60, null],
      ['p2', 'at-least', 66, null],
      ['p3', 'not-recorded', null, null],
      ['s1', 'measured', 88, null],
      ['s2', 'measured', 20, 'slipped'],
      ['s3', 'measured', 91, null],
    ])
    expect(document.specimens[0]).toMatchObject({ low: 58, high: 62, mode: 'peel', block: 'mon', order: 1 })
    const perWidth = documentOf(
      (await ran([...args, '--json', '--per', 'width', '--dimension-doubt', '0.5'])).out,
    )
    expect(perWidth).toMatchObject({ unit: 'N/mm' })
    expect(perWidth.specimens[0]!.value).toBeCloseTo(3, 12)
  })
  test('--drop takes a reason, and the specimen stays in sight', async () => {
    const table = write('values.csv', ...VALUES)
    const { out } = await ran(['compare', '--table', table, '--drop', 'stitch 3=slipped in the grip'])
    expect(out).toMatch(/stitch 3 8.10 \(dropped: slipped in the grip\)/)
    expect((await ran(['compare', '--table', table, '--drop', 'stitch 3'])).code).toBe(EXIT.usage)
    const unknown = await ran(['compare', '--table', table, '--drop', 'glue 1=gone'])
    expect(unknown).toMatchObject({ code: EXIT.input, err: expect.stringContaining('“stitch 1”') })
  })
})

describe('bad input is told with line and cure', () => {
  const cases: [string, string[], RegExp][] = [
    [
      'text among the values',
      ['group,value', 'a,1', 'a,oops', 'b,2', 'b,3'],
      /line 3, column “value”: “oops” is not a number. Mend the cell/,
    ],
    [
      'every bad cell at once',
      ['group,value', 'a,x', 'a,y', 'a,1', 'b,1', 'b,2', 'b,3'],
      /line 2[\s\S]*line 3/,
    ],
    [
      'a value that no rig measures',
      ['group,value', 'a,1', 'a,1e300', 'b,2', 'b,3'],
      /line 3, column “value”: “1e300” is too great to be a measurement. Mend the cell/,
    ],
    ['an empty group', ['group,value', 'a,1', ',2'], /line 3: the column “group” is empty/],
    [
      'no column of values',
      ['group,note', 'a,x', 'b,y'],
      /which column holds the values. Say so with --value/,
    ],
    ['two columns that could be meant', ['group,x,y', 'a,1,2', 'b,3,4'], /the columns are “group”, “x”, “y”/],
    ['a header and no rows', ['group,value'], /no rows/],
    ['an empty file', [], /empty/],
    ['a status that is none', ['group,value,status', 'a,1,fine'], /line 2, status: “fine” is not a status/],
  ]
  for (const [title, lines, message] of cases)
    test(title, async () => {
      const { code, err, out } = await ran(['compare', '--table', write('bad.csv', ...lines)])
      expect(out).toBe('')
      expect(code).toBe(EXIT.input)
      expect(err).toMatch(message)
    })
  test('a column or a file that is not there', async () => {
    const table = write('values.csv', ...VALUES)
    expect((await ran(['compare', '--table', table, '--value', 'force'])).err).toMatch(
      /no column “force”. Its columns are “variant”, “peak \(kgf\)”/,
    )
    expect((await ran(['compare', '--table', at('nothing.csv')])).err).toMatch(/there is no such file/)
  })
  test('all values equal, one group or n too small is an answer, with what would do', async () => {
    const equal = write('equal.csv', 'group,value', 'a,5', 'a,5', 'b,5', 'b,5')
    expect((await ran(['compare', '--table', equal])).out).toMatch(/\nAll values of a and b are alike/)
    const few = write('few.csv', 'group,value', 'a,5', 'b,6')
    const { out } = await ran(['compare', '--table', few, '--json'])
    expect(documentOf(out).groups[0]!.missing).toContainEqual(
      expect.objectContaining({ figure: 'sd', why: 'too-few', atLeast: 2 }),
    )
  })
  test('the command line: nothing, too much, options that do not go together', async () => {
    const table = write('values.csv', ...VALUES)
    for (const words of [
      [],
      ['x.csv', '--table', table],
      ['--table', table, '--draw', 'overlay'],
      ['x.csv', '--group', 'a'],
      ['x.csv', '--block', 'moon'],
      ['--table', table, '--quantity', 'colour'],
    ])
      expect((await ran(['compare', ...words])).code).toBe(EXIT.usage)
  })
  test('hostile names reach no terminal as they are', async () => {
    const table = write(
      'evil.csv',
      'group,value',
      '\u001b]0;x\u0007a,1',
      '\u001b]0;x\u0007a,2',
      'b,3',
      'b,4.5',
    )
    const { out, err } = await ran(['compare', '--table', table])
    expect((out + err).replaceAll('\n', ' ')).not.toMatch(/\p{Cc}/u)
  })
})

describe('logs and readings', () => {
  test('by file names; the same from the readings that read prints', async () => {
    const fromLogs = documentOf((await ran(['compare', '--json', '--by', '{variant}-{n}.csv', ...logs])).out)
    expect(fromLogs.groups.map(g => [g.name, g.n])).toEqual([
      ['hot-melt', 3],
      ['paste', 3],
    ])
    expect(fromLogs).toMatchObject({ unit: 'N', quantity: 'peakForce' })
    expect(fromLogs.specimens.every(s => s.low !== null && s.low < s.value! && s.high! > s.value!)).toBe(true)
    writeFileSync(at('readings.jsonl'), (await ran(['read', '--json', ...logs])).out)
    const fromReadings = documentOf((await ran(['compare', '--json', at('readings.jsonl')])).out)
    expect(fromReadings.pairs).toEqual(fromLogs.pairs)
  })
  test('by the table of specimens, with days as blocks', async () => {
    const table = write(
      'bags.csv',
      'file,variant,day,order,mode',
      ...logs.map(
        (log, i) =>
          `${log.split(/[\\/]/).at(-1)},${i < 3 ? 'A' : 'B'},${i % 3 === 0 ? 'mon' : 'tue'},${i + 1},peel`,
      ),
    )
    const document = documentOf(
      (await ran(['compare', '--json', '--specimens', table, '--block', 'day', ...logs])).out,
    )
    expect(document.groups.map(g => g.name)).toEqual(['A', 'B'])
    expect(document.blocks).toMatchObject({ by: 'day', tied: true })
    expect(document.specimens.map(s => s.order)).toEqual([1, 2, 3, 4, 5, 6])
  })
  test('a name that does not fit the pattern is told, each of them', async () => {
    const { code, err } = await ran(['compare', '--by', 'x-{variant}.csv', ...logs.slice(0, 2)])
    expect(code).toBe(EXIT.input)
    expect(err).toMatch(/hot-melt-1.csv: its name does not fit the pattern[\s\S]*hot-melt-2.csv/)
  })
  test('a file of JSON that holds no reading', async () => {
    const { code, err } = await ran(['compare', write('x.json', '{"document":"other"}'), logs[0]!])
    expect(code).toBe(EXIT.input)
    expect(err).toMatch(/x.json: it is not a reading/)
    expect((await ran(['compare', write('y.jsonl', '{}', '{"a":')])).err).toMatch(
      /y.jsonl, line 2: it is not JSON/,
    )
  })
  test('figures: dots, Weibull, overlay; a wrong ending is told', async () => {
    for (const draw of ['dots', 'weibull', 'overlay']) {
      expect((await ran(['compare', ...logs, '--figure', at(`${draw}.svg`), '--draw', draw])).code).toBe(
        EXIT.ok,
      )
      expect(readFileSync(at(`${draw}.svg`), 'utf8')).toMatch(/<title>.*hot-melt and paste/)
    }
    expect((await ran(['compare', ...logs, '--figure', at('dots.gif')])).code).toBe(EXIT.usage)
  })
})
