import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  decimalsFor,
  decimalsInWords,
  isLopsided,
  plainNumber,
  showForce,
  showForceBetween,
  threeDigits,
} from '../../../src/core/units/showForce.ts'

test.each([
  [1.5, 1],
  [0.15, 2],
  [15, 0],
  [152, 0],
  [0.0996, 2],
  [0.994, 2],
  [9.96, 0],
  [0, 9],
])('a doubt of %d is shown with %d decimals', (halfWidth, decimals) =>
  expect(decimalsFor(halfWidth)).toBe(decimals),
)

test.each([
  [68.234, 1.49, 'N', '68.2 ± 1.5 N'],
  [68.234, 1.49, 'kgf', '6.96 ± 0.15 kgf'],
  [-0.004, 0.5, 'N', '0.00 ± 0.50 N'],
  [-6.66, 0.7, 'N', '−6.66 ± 0.70 N'],
  [68.234, null, 'N', '68.2 N'],
] as const)('%d N with a doubt of %s in %s', (valueN, halfWidthN, unit, text) => {
  expect(showForce(valueN, halfWidthN, unit)).toBe(text)
})

test('a lopsided interval shows its ends', () => {
  expect(showForceBetween(68.2, 67.1, 70.4, 'N')).toBe('68.2 N (67.1 to 70.4 N)')
  expect(showForce(68.2, 1.65, 'N', { lowN: 67.1, highN: 70.4 })).toBe('68.2 N (67.1 to 70.4 N)')
})

test('± stands where both sides are nearly alike, and never where it would go below nothing', () => {
  expect(showForce(68.2, 1.5, 'N', { lowN: 66.8, highN: 69.8 })).toBe('68.2 ± 1.5 N')
  expect(showForce(0.5, 0.8, 'N', { lowN: -0.3, highN: 1.3 })).toBe('0.50 N (0 to 1.30 N)')
  // The level of a zero may lie below nothing.
  expect(showForce(0.5, 0.8, 'N')).toBe('0.50 ± 0.80 N')
})

test.each([
  [10, 9, 11.5, false],
  [10, 9, 11.51, true],
  [10, 8.49, 11, true],
])('%d in %d to %d: lopsided %s', (value, low, high, lopsided) =>
  expect(isLopsided(value, low, high)).toBe(lopsided),
)

test.each([
  [1234.5, '1235'],
  [12.345, '12.3'],
  [0.012345, '0.0123'],
  [9.999, '10.0'],
  [0, '0'],
])('%d to three digits', (value, text) => expect(threeDigits(value)).toBe(text))

test('minus is a minus sign and zero has none', () => {
  expect(plainNumber(-1.25, 1)).toBe('−1.3')
  expect(plainNumber(-0.01, 1)).toBe('0.0')
})

test('what is shown is within half a last digit of the value', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      fc.double({ min: 1e-6, max: 1e5, noNaN: true }),
      (value, doubt) => {
        const shown = Number(showForce(value, doubt, 'N').split(' ')[0]?.replace('−', '-'))
        expect(Math.abs(shown - value)).toBeLessThanOrEqual(0.5 * 10 ** -decimalsFor(doubt) * 1.0001)
      },
    ),
    { seed: 5 },
  )
})

test.each([
  [0.003, 81, 2],
  [0.2, 81, 2],
  [3, 81, 1],
  // The same curve in kilonewton: its drops are told in newton's tenths still.
  [0.000003, 0.081, 4],
  [0.003, 8100, 2],
  [0.003, 0, 2],
])('words on a curve: ± %d, up to %d: %d decimals', (halfWidth, greatest, decimals) =>
  expect(decimalsInWords(halfWidth, greatest)).toBe(decimals),
)
