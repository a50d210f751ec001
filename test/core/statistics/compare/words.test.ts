import { expect, test } from 'vitest'
import { toldBound } from '../../../../src/core/statistics/compare/words.ts'

test('a bound below nought is told as nought, unless something measured lay below it too', () => {
  expect(toldBound(-3, 12)).toBe(0)
  expect(toldBound(-3, -5)).toBe(-3)
  expect(toldBound(4.2, 12)).toBe(4.2)
  expect(toldBound(null, 12)).toBeNull()
})
