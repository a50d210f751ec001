import { expect, test } from 'vitest'
import type { Comparison } from '../../../src/core/statistics/document.ts'
import {
  amountText,
  figureText,
  halfOf,
  rangedText,
  shownOf,
  spanText,
} from '../../../src/web/compare/shown.ts'

const of = (unit: string) => ({ unit }) as Comparison
const kgf = shownOf(of('N'), 'kgf')

test('forces go into the person’s unit, all else stays in its own', () => {
  // Standard gravity, exact by definition.
  expect(kgf).toEqual({ unit: 'kgf', per: 9.80665 })
  expect(shownOf(of('kgf'), 'N').per).toBeCloseTo(1 / 9.80665, 12)
  expect(shownOf(of('N/mm'), 'kgf')).toEqual({ unit: 'N/mm', per: 1 })
  expect(shownOf(of(''), 'N')).toEqual({ unit: '', per: 1 })
})

test('a figure has the digits that two digits of its doubt allow, and three without one', () => {
  expect(amountText(98.0665, 0.980665, kgf)).toBe('10.00 kgf')
  expect(amountText(98.0665, null, kgf)).toBe('10.0 kgf')
  expect(amountText(98.0665, 0, kgf)).toBe('10.0 kgf')
  expect(figureText(98.0665, 120, kgf)).toBe('10')
  expect(amountText(3, null, { unit: '', per: 1 })).toBe('3.00')
})

test('what cannot be had is a dash, never nought', () => {
  expect(amountText(null, 1, kgf)).toBe('–')
  expect(spanText(null, kgf)).toBe('–')
  expect(rangedText(null, [1, 2], kgf)).toBe('–')
  expect(halfOf(null)).toBeNull()
})

test('an interval is shown from end to end, a lopsided one behind its figure', () => {
  expect(spanText([588.399, 686.4655], kgf)).toBe('60.0 to 70.0 kgf')
  expect(rangedText(19.6133, [9.80665, 58.8399], kgf)).toBe('2.0 kgf (1.0 to 6.0 kgf)')
  expect(rangedText(98.0665, [97.08584, 99.04717], kgf)).toBe('10.00 ± 0.10 kgf')
  expect(rangedText(19.6133, null, kgf)).toBe('2.00 kgf')
  expect(halfOf([2, 6])).toBe(2)
})

test('what cannot be below nothing has an interval from 0', () => {
  expect(spanText([-98.0665, 686.4655], kgf, true)).toBe('0 to 70 kgf')
  expect(spanText([-98.0665, 686.4655], kgf)).toBe('−10 to 70 kgf')
  expect(rangedText(294.1995, [-98.0665, 686.4655], kgf, true)).toBe('30 kgf (0 to 70 kgf)')
})
