import { describe, expect, test } from 'vitest'
import { differenceWords, isNeverBelowZero, placeWords, valueWords } from '../../../src/core/answer/words.ts'

const N = { unit: 'N', per: 1 }
const KGF = { unit: 'kgf', per: 9.80665 }
const value = (middle: number, low: number | null, high: number | null, atLeast = false) => ({
  middle,
  low,
  high,
  atLeast,
})

describe('a value with its doubt', () => {
  test('± where both ends lie alike, in the unit asked for', () => {
    expect(valueWords({ value: value(98.0665, 83.3565, 112.7765) }, KGF, true)).toBe('10.0 ± 1.5 kgf')
  })
  test('both ends where they do not', () => {
    expect(valueWords({ value: value(10, 9, 14) }, N, true)).toBe('10.0 N (9.0 to 14.0 N)')
  })
  test('a force reaches from 0, never from below it; a bare column may', () => {
    expect(valueWords({ value: value(7, -3, 17) }, N, true)).toBe('7 N (0 to 17 N)')
    expect(valueWords({ value: value(7, -3, 17) }, N, false)).toBe('7 ± 10 N')
    expect(isNeverBelowZero('peakForce', [{ value: -1 }])).toBe(true)
    expect(isNeverBelowZero('lean', [{ value: -1 }])).toBe(false)
    expect(isNeverBelowZero('lean', [{ value: 1 }, { value: null }])).toBe(true)
  })
  test('a bound, a lone value, none', () => {
    expect(valueWords({ value: value(68, 68, null, true) }, N, true)).toBe('at least 68.0 N')
    expect(valueWords({ value: value(68, null, null) }, N, true)).toBe('68.0 N')
    expect(valueWords({ value: null }, N, true)).toBe('not measured')
    expect(valueWords({ value: null, noValue: 'no force yet' }, N, true)).toBe('no force yet')
  })
})

describe('the difference to the next', () => {
  const to = { to: 'paste', by: 2.7, low: 1.1, high: 4.4, chance: null }
  test('decided, by means or by ranks alone', () => {
    expect(differenceWords({ ...to, verdict: 'more' }, N)).toBe('2.7 more than paste (1.1 to 4.4)')
    expect(differenceWords({ ...to, verdict: 'more', chance: 0.94 }, N)).toBe('beats paste 94 times in 100')
  })
  test('not decided, and shown alike: from how much less to how much more', () => {
    const open = { ...to, by: 1.2, low: -0.5, high: 2.9 }
    expect(differenceWords({ ...open, verdict: 'undecided' }, N)).toBe(
      'not told from paste (0.5 less to 2.9 more)',
    )
    expect(differenceWords({ ...open, verdict: 'as-good' }, N)).toBe(
      'as good as paste (0.5 less to 2.9 more)',
    )
  })
})

test('places', () => {
  const place = (from: number, to: number, shared = false) => placeWords({ from, to, shared })
  expect([place(1, 1), place(2, 3), place(1, 3), place(1, 1, true), place(11, 11), place(21, 22)]).toEqual([
    '1st',
    '2nd or 3rd',
    '1st to 3rd',
    '1st, shared',
    '11th',
    '21st or 22nd',
  ])
})
