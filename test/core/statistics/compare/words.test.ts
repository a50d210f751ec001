import { expect, test } from 'vitest'
import { span, toldBound } from '../../../../src/core/statistics/compare/words.ts'

test('a bound below nought is told as nought, unless something measured lay below it too', () => {
  expect(toldBound(-3, 12)).toBe(0)
  expect(toldBound(-3, -5)).toBe(-3)
  expect(toldBound(4.2, 12)).toBe(4.2)
  expect(toldBound(null, 12)).toBeNull()
})

test('no end of an interval is rounded to nought: its side says whether a difference is seen', () => {
  const newton = { unit: 'N', shown: null }
  expect(span([0.021, 6.38], newton)).toBe('0.02 to 6.38 N')
  expect(span([-6.38, -0.0041], newton)).toBe('−6.380 to −0.004 N')
  expect(span([-0.021, 6.38], newton)).toBe('−0.02 to 6.38 N')
  expect(span([0.4, 6.38], newton)).toBe('0.4 to 6.4 N')
  expect(span([0, 6.38], newton)).toBe('0 to 6.4 N')
})
