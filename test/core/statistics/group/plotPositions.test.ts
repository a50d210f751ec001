import { expect, test } from 'vitest'
import { plotPositions } from '../../../../src/core/statistics/group/plotPositions.ts'

test('without censoring: median ranks by Benard', () => {
  const places = plotPositions([30, 10, 20])
  expect(places.map(p => p.index)).toEqual([1, 2, 0])
  expect(places.map(p => p.rank)).toEqual([1, 2, 3])
  places.forEach((p, i) => {
    expect(p.probability).toBeCloseTo((i + 0.7) / 3.4, 12)
  })
})

test('ranks are raised for specimens that dropped out', () => {
  // The eight-unit example usual in textbooks for Johnson's adjustment: ranks 1.125, 2.438, 3.750, 5.063, 6.375 (from memory).
  const places = plotPositions(
    [10, 30, 45, 49, 82, 90, 96, 100],
    [true, false, true, false, false, false, false, true],
  )
  expect(places.map(p => p.rank)).toEqual([1.125, 2.4375, 3.75, 5.0625, 6.375])
  expect(places.map(p => p.index)).toEqual([1, 3, 4, 5, 6])
})

test('a specimen that broke where another was taken out comes first', () => {
  const [first] = plotPositions([50, 50], [true, false])
  expect(first!.rank).toBe(1)
})

test('nothing broken, nothing to plot', () => {
  expect(plotPositions([1, 2], [true, true])).toEqual([])
  expect(plotPositions([])).toEqual([])
})
