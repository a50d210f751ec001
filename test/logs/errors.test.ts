import { describe, expect, test } from 'vitest'
import { type LogOptions, readLog } from '../../src/logs/index.ts'
import { lines, problemsOf, utf8 } from './support.ts'

/** What the command line calls an option of a log. */
const FIELDS: Readonly<Record<string, keyof LogOptions>> = {
  rate: 'rateHz',
  time: 'time',
  'time-unit': 'timeUnit',
  force: 'force',
  unit: 'unit',
  tension: 'tension',
  decimal: 'decimal',
  encoding: 'encoding',
}

interface Case {
  readonly title: string
  readonly log: string | Uint8Array
  readonly options?: LogOptions
  /** Where, what is wrong, and the cure. */
  readonly says: RegExp
}

const good = (row: (i: number) => string, head = 'time_s,force_N\n'): string => head + lines(20, row)

const cases: readonly Case[] = [
  { title: 'an empty file', log: '', says: /^log\.csv: the file is empty\. .*logger/ },
  { title: 'blank lines alone', log: '\n\n  \n', says: /no rows of numbers/ },
  {
    title: 'text without numbers',
    log: 'It broke.\nWe do not know why.\n',
    says: /^log\.csv, line 1: no rows of numbers were found; “It broke\.” is none\. A log holds/,
  },
  { title: 'a header alone', log: 'time_s,force_N\n', says: /no rows of numbers/ },
  {
    title: 'one column without a rate',
    log: lines(20, i => `${i * 1.5}`),
    says: /no times beside the force.*--rate 80/,
  },
  {
    title: 'one column of counts of rows beside it',
    log: good(i => `${i + 1},${(i * 7) % 11}`, 'No.,force_N\n'),
    says: /“No\.” only numbers the rows.*--rate.*--time 1/,
  },
  {
    title: 'two forces alike',
    log: good(i => `${i / 10},${i},${20 - i * i}`, 'time_s,left_N,right_N\n'),
    says: /may be column 2 “left_N”, column 3 “right_N”\. Say which: --force "left_N" or --force "right_N"/,
  },
  {
    title: 'three columns without a header',
    log: lines(20, i => `${i / 10},${(i * 7) % 11},${(i * 5) % 13}`),
    says: /may be column 2, column 3\. Say which: --force 2 or --force 3/,
  },
  {
    title: 'time that runs back',
    log: good(i => `${i === 12 ? 6.05 : i / 1.5},${i}`),
    says: /^log\.csv, line 14: the time runs back from 7\.3333 to 6\.05 s? ?|line 14: the time runs back from 7\.33333333 s to 6\.05 s without a reset\. Put/,
  },
  { title: 'time that stands still', log: good(i => `5,${i}`), says: /“time_s”\) never changes.*--rate/ },
  {
    title: 'an unknown unit in a cell',
    log: good(i => `${i / 10},${i} ${i === 7 ? 'foo' : 'N'}`),
    says: /^log\.csv, line 9: “foo” is no unit of force/,
  },
  {
    title: 'two units above',
    log: `Unit: kgf\nUnit: lbf\n${good(i => `${i / 10},${i}`, 'time_s,force\n')}`,
    says: /line 1 has kgf, line 2 has lbf.*--unit/,
  },
  {
    title: 'counts and a force in turn',
    log: good(i => `${i / 10},${i} ${i < 5 ? 'N' : 'counts'}`),
    says: /changes between raw counts and a force/,
  },
  {
    title: 'too few samples',
    log: `time_s,force_N\n${lines(9, i => `${i},${i}`)}`,
    says: /only 9 samples could be read\. A reading needs at least 10/,
  },
  {
    title: 'too few readable samples',
    log: `time_s,force_N\n${lines(12, i => `${i},${i % 4 === 3 ? '1.2.3' : i}`)}`,
    says: /line 5: only 9 samples could be read; “3,1\.2\.3” could not/,
  },
  {
    title: 'a column that is not there',
    log: good(i => `${i / 10},${i}`),
    options: { force: 'Load' },
    says: /--force: there is no column of numbers “Load”; there are column 1 “time_s”, column 2 “force_N”/,
  },
  {
    title: 'a column number that is not there',
    log: good(i => `${i / 10},${i}`),
    options: { time: '3' },
    says: /--time: there is no column of numbers “3”/,
  },
  {
    title: 'random bytes',
    log: Uint8Array.from({ length: 500 }, (_, i) => (i * 7919) % 251),
    says: /bytes that are not text.*Export/,
  },
  {
    title: 'a workbook',
    log: utf8('PK\x03\x04aaaaaaaaaaaa'),
    says: /ZIP archive or a spreadsheet workbook, not text.*CSV/,
  },
  { title: 'a picture', log: Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10), says: /PNG picture/ },
  { title: 'half a JSON document', log: '{"samples": [[0, 1], [0.1', says: /not a whole one/ },
  { title: 'a JSON document without samples', log: '{"device": "rig 4"}', says: /no array of samples/ },
  {
    title: 'an unknown encoding',
    log: good(i => `${i},${i}`),
    options: { encoding: 'klingon' },
    says: /--encoding: “klingon” is no encoding/,
  },
]

describe('names what is wrong and the cure for', () => {
  test.each(cases)('$title', ({ log, options, says }) => {
    const problems = problemsOf(log, options)
    expect(problems.length).toBeGreaterThan(0)
    expect(problems[0]).toMatch(says)
  })
  test.each(cases)('$title: the options that its cure names are its fields', ({ log, options }) => {
    const read = readLog(typeof log === 'string' ? utf8(log) : log, 'log.csv', options)
    for (const { where, cure, fields = [] } of read.ok ? [] : read.problems) {
      const named = [...`${cure} ${where}`.matchAll(/--(?!specimen)([a-z-]+)/g)].map(
        ([, option]) => FIELDS[option!],
      )
      expect(fields).toEqual([...new Set(named)])
    }
  })
})

test('control characters of a log never reach a message', () => {
  const [problem = ''] = problemsOf(`time_s,force\n${lines(20, i => `${i},${i} \x1bfoo`)}`)
  expect(problem).not.toBe('')
  expect([...problem].every(character => character >= ' ')).toBe(true)
})

test('a long text is cut in a message', () => {
  const [problem = ''] = problemsOf(
    `time_s,force_N\n${lines(12, i => `${i},${i % 4 === 3 ? `${'9'.repeat(3000)}x` : i}`)}`,
  )
  expect(problem.length).toBeLessThan(300)
})
