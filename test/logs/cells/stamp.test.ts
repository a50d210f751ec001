import { describe, expect, test } from 'vitest'
import { monthLeads, parseClock, parseDate, parseDateTime } from '../../../src/logs/cells/stamp.ts'

describe('parseClock gives seconds since midnight', () => {
  test.each([
    ['12:01:03.250', 43_263.25],
    ['12:01:03,250', 43_263.25],
    ['12:01:03:250', 43_263.25],
    ['[12:01:03]', 43_263],
    ['1:00:00 PM', 46_800],
    ['12:00:00 am', 0],
    ['01:03.5', 63.5],
    ['100:00:00', 360_000],
    ['12:61:00', null],
    ['13:00:00 PM', null],
    ['12', null],
  ])('%j is %s', (text, value) => expect(parseClock(text)).toBe(value))
})

describe('parseDate gives midnight in UTC', () => {
  const day = Date.UTC(2026, 4, 1) / 1000
  test.each([
    '2026-05-01',
    '2026/5/1',
    '2026.05.01',
    '01.05.2026',
    '1.5.26',
    '01/05/2026',
    '20260501',
    '2026年5月1日',
    '01-May-2026',
    '1 May 2026',
  ])('%s', text => expect(parseDate(text)).toBe(day))
  test('the month may come first', () => expect(parseDate('05/01/2026', true)).toBe(day))
  test.each(['2026-13-01', '32.01.2026', '1.5', 'May', '05/13/2026'])('%s is none', text =>
    expect(parseDate(text)).toBe(null),
  )
})

describe('parseDateTime', () => {
  const at = Date.UTC(2026, 4, 1, 12, 1, 3) / 1000
  test.each([
    ['2026-05-01T12:01:03Z', at],
    ['2026-05-01T12:01:03.5Z', at + 0.5],
    ['2026-05-01 12:01:03', at],
    ['2026-05-01T14:01:03+02:00', at],
    ['20260501T120103', at],
    ['01.05.2026 12:01:03,25', at + 0.25],
    ['01/05/2026, 12:01:03 PM', at],
    ['12:01:03', null],
    ['2026-05-01', null],
  ])('%s', (text, value) => expect(parseDateTime(text)).toBe(value))
})

test('the part of slashed dates that passes 12, or changes, is the day', () => {
  expect(monthLeads(['05/13/2026'])).toBe(true)
  expect(monthLeads(['13/05/2026'])).toBe(false)
  expect(monthLeads(['05/01/2026', '05/02/2026'])).toBe(true)
  expect(monthLeads(['01/05/2026', '02/05/2026'])).toBe(false)
})
