import { describe, expect, test } from 'vitest'
import { readLog } from '../../../src/logs/index.ts'

/** Thirty rows to 14.5 N, the later lines, then two rows more. */
const logOf = (row: (i: number) => string, later: readonly string[], header = ''): string => {
  const rows = Array.from({ length: 32 }, (_, i) => row(i))
  return `${[...(header === '' ? [] : [header]), ...rows.slice(0, 30), ...later, ...rows.slice(30)].join('\n')}\n`
}
const cells = (later: readonly string[]): string => logOf(i => `${i / 10},${i / 2}`, later, 'time_s,force_N')

const unreadOf = (log: string): readonly string[] => {
  const read = readLog(new TextEncoder().encode(log), 'log.csv')
  if (!read.ok) throw new Error(read.problems[0]?.what)
  expect(read.value.forceN).toHaveLength(32)
  return read.value.assumptions
    .filter(({ code }) => code === 'lines-not-read')
    .flatMap(({ lines }) => lines?.first.map(({ line, text }) => `${line} ${text}`) ?? [])
}

describe('a row behind a comment mark, in the midst of a log, is told as a line that was not read', () => {
  test.each([
    '# 2.95,99.5',
    '#2.95;99.5',
    '// 2.95 99.5',
    '%2.95,99.5',
    '; 2.95,99.5',
    '# 2.95 s,99.5 N',
    '# t=2.95 f=99.5',
  ])('%s', line => expect(unreadOf(cells([line]))).toEqual([`32 ${line}`]))

  test('in a log of names and numbers', () => {
    const log = logOf(i => `t=${i / 10} f=${i / 2}`, ['# t=2.95 f=99.5', '# gain=3'])
    expect(unreadOf(log)).toEqual(['31 # t=2.95 f=99.5'])
  })

  test('in a log of objects', () => {
    const log = logOf(
      i => `{"time_s":${i / 10},"force_N":${i / 2}}`,
      ['# {"time_s":2.95,"force_N":99.5}', '# gain 3'],
    )
    expect(unreadOf(log)).toEqual(['31 # {"time_s":2.95,"force_N":99.5}'])
  })

  test('a comment in words is none, nor one of a date, nor one above the rows', () => {
    expect(unreadOf(cells(['# the grip slipped at 2.9 s', '# 2026-11-30', '# gain = 3']))).toEqual([])
    expect(unreadOf(`# 1.5,2.5\n${cells([])}`)).toEqual([])
  })
})

test('where many rows in a run stand behind a comment mark, the log is not read as if they were not there', () => {
  const later = Array.from({ length: 25 }, (_, i) => `# ${3 + i / 100},${20 + i}`)
  const read = readLog(new TextEncoder().encode(cells(later)), 'log.csv')
  expect(read.ok ? [] : read.problems.map(({ where }) => where)).toEqual(['log.csv, line 32'])
})
