import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { greatestAt, nextFrom, nextStep, reachOf, sumOf } from '../../../src/core/signal/scan.ts'

const series = fc
  .array(fc.integer({ min: -50, max: 50 }), { minLength: 1, maxLength: 60 })
  .map(values => Float64Array.from(values))

describe('going through a record', () => {
  test('the next step that rises or falls too far', () => {
    const values = Float64Array.of(0, 1, 1, 4, 3, -2, 5)
    expect(nextStep(values, 1, 7, 2, 4)).toBe(3)
    expect(nextStep(values, 4, 7, 2, 4)).toBe(5)
    expect(nextStep(values, 6, 7, 7, 4)).toBe(7)
    expect(nextStep(values, 1, 7, 3, 5)).toBe(6)
    expect(nextStep(values, 8, 7, 0, 0)).toBe(7)
  })
  test('the next value of a level or more', () => {
    const values = Float64Array.of(0, 3, 2, 4)
    expect(nextFrom(values, 0, 4, 3)).toBe(1)
    expect(nextFrom(values, 2, 4, 3)).toBe(3)
    expect(nextFrom(values, 0, 4, 5)).toBe(4)
  })
  test('nothing reaches from one infinity to the other', () => {
    expect(reachOf(Float64Array.of(1), 1, 1)).toEqual({
      low: Number.POSITIVE_INFINITY,
      high: Number.NEGATIVE_INFINITY,
    })
    expect(sumOf(Float64Array.of(1), 1, 1)).toBe(0)
    expect(greatestAt(Float64Array.of(1, 2), 1, 1)).toBe(1)
  })
  test('as the array’s own methods have it', () => {
    fc.assert(
      fc.property(series, fc.nat(59), fc.nat(60), (values, a, b) => {
        const from = Math.min(a, values.length - 1)
        const to = Math.max(from + 1, Math.min(b, values.length))
        const part = Array.from(values.subarray(from, to))
        expect(reachOf(values, from, to)).toEqual({ low: Math.min(...part), high: Math.max(...part) })
        expect(greatestAt(values, from, to)).toBe(from + part.indexOf(Math.max(...part)))
        expect(sumOf(values, from, to)).toBe(part.reduce((sum, v) => sum + v, 0))
      }),
    )
  })
})
