import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { extentIn, extentOf, joinedExtent, NO_EXTENT, tellExtent } from '../../../src/core/signal/extent.ts'

const series = fc
  .array(fc.integer({ min: -50, max: 50 }), { maxLength: 60 })
  .map(values => Float64Array.from(values))

describe('the extent of a series', () => {
  test('of none, one and some values', () => {
    const values = Float64Array.of(3, 9, 2, 2, -4, 1)
    expect(extentIn(values, 2, 2)).toEqual(NO_EXTENT)
    expect(extentIn(values, 1, 2)).toEqual({ ...NO_EXTENT, count: 1, first: 9, last: 9, low: 9, high: 9 })
    expect(extentIn(values, 0, 6)).toEqual({
      count: 6,
      first: 3,
      last: 1,
      low: -4,
      high: 9,
      steadyLow: 1,
      steadyHigh: 3,
      leastStep: -7,
      greatestStep: 6,
    })
  })

  test('as the array’s own methods have it', () => {
    fc.assert(
      fc.property(series, values => {
        const all = Array.from(values)
        const pairs = all.slice(1).map((value, i) => [all[i]!, value] as const)
        const steps = pairs.map(([a, b]) => b - a)
        expect(extentOf(values)).toEqual({
          count: all.length,
          first: all[0] ?? Number.NaN,
          last: all.at(-1) ?? Number.NaN,
          low: Math.min(...all),
          high: Math.max(...all),
          steadyLow: Math.min(...pairs.map(pair => Math.max(...pair))),
          steadyHigh: Math.max(...pairs.map(pair => Math.min(...pair))),
          leastStep: Math.min(...steps),
          greatestStep: Math.max(...steps),
        })
      }),
    )
  })

  test('two that follow each other are joined', () => {
    fc.assert(
      fc.property(series, fc.nat(60), (values, at) => {
        const cut = Math.min(at, values.length)
        const joined = joinedExtent(extentIn(values, 0, cut), extentIn(values, cut, values.length))
        expect(joined).toEqual(extentOf(values))
      }),
    )
  })

  test('a long series is gone through in parts', () => {
    const values = Float64Array.from({ length: 20_000 }, (_, i) => i + (i === 8192 ? 0.5 : 0))
    const { count, low, high, leastStep, greatestStep } = extentOf(values)
    expect({ count, low, high, leastStep, greatestStep }).toEqual({
      count: 20_000,
      low: 0,
      high: 19_999,
      leastStep: 0.5,
      greatestStep: 1.5,
    })
  })

  test('what was told is given', () => {
    const values = Float64Array.of(1, 2)
    tellExtent(values, NO_EXTENT)
    expect(extentOf(values)).toBe(NO_EXTENT)
  })
})
