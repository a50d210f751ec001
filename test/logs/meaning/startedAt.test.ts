import { expect, test } from 'vitest'
import { readLog, startedAtOf } from '../../../src/logs/index.ts'
import { utf8 } from '../support.ts'

const begun = (stamp: (i: number) => string): string | null => {
  const rows = Array.from({ length: 20 }, (_, i) => `${stamp(i)};${i / 2}\n`)
  const read = readLog(utf8(`time;force_N\n${rows.join('')}`), 'a.csv', {})
  if (!read.ok) throw new Error(read.problems[0]?.what)
  return startedAtOf(read.value)
}
const ss = (i: number) => String(i).padStart(2, '0')

test.each([
  ['a date with a zone', (i: number) => `2026-05-01T12:01:${ss(i)}+02:00`, '2026-05-01T10:01:00.000Z'],
  ['a date in UTC', (i: number) => `2026-05-01T12:01:${ss(i)}.250Z`, '2026-05-01T12:01:00.250Z'],
  [
    'a date without a zone: its digits',
    (i: number) => `01.05.2026 23:59:${ss(i)}`,
    '2026-05-01T23:59:00.000Z',
  ],
  ['a time of day alone', (i: number) => `12:01:${ss(i)}`, null],
  ['a count of seconds', (i: number) => `${i}`, null],
  ['a large count, which may count from anywhere', (i: number) => `${1_777_000_000 + i}`, null],
])('%s', (_, stamp, expected) => expect(begun(stamp)).toBe(expected))
