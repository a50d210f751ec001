import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { weightedQuantiles as quantilesOf } from '../../../src/core/signal/weightedQuantile.ts'

const weightedQuantiles = (values: number[], weights: number[], shares: number[]) =>
  quantilesOf(Float64Array.from(values), Float64Array.from(weights), values.length, shares)

describe('weightedQuantiles', () => {
  it('gives the value at which the weight reaches the share', () => {
    // Weights 1, 2, 3, 4 of the values 10, 20, 30, 40: up to them lie 0.1, 0.3, 0.6 and 1 of the weight.
    const quantiles = weightedQuantiles([30, 10, 40, 20], [3, 1, 4, 2], [0, 0.05, 0.2, 0.5, 0.7, 1])
    expect(quantiles).toEqual([10, 10, 20, 30, 40, 40])
  })

  it('gives the median of numpy, where weights are equal and values many', () => {
    // numpy.quantile([7, 1, 5, 3, 9], [0.025, 0.5, 0.975], method='inverted_cdf') is [1, 5, 9] (numpy 2.4.6).
    expect(weightedQuantiles([7, 1, 5, 3, 9], [1, 1, 1, 1, 1], [0.025, 0.5, 0.975])).toEqual([1, 5, 9])
  })

  it('takes one value, and equal ones', () => {
    expect(weightedQuantiles([4], [0.3], [0.025, 0.975])).toEqual([4, 4])
    expect(weightedQuantiles([2, 2, 2], [1, 0, 5], [0, 0.5, 1])).toEqual([2, 2, 2])
  })

  it('takes no more than the first so many', () => {
    const values = Float64Array.of(5, 3, 4, 1, 9)
    const weights = Float64Array.of(1, 1, 1, 100, 100)
    expect(quantilesOf(values, weights, 3, [0, 0.5, 1])).toEqual([3, 4, 5])
    expect([values[3], values[4], weights[3], weights[4]]).toEqual([1, 9, 100, 100])
  })

  it('agrees with going through the sorted values', () => {
    const pairs = fc.array(fc.tuple(fc.integer({ min: -20, max: 20 }), fc.integer({ min: 1, max: 9 })), {
      minLength: 1,
      maxLength: 60,
    })
    fc.assert(
      // Whole weights and shares of a sixteenth: sums are exact, whatever their order.
      fc.property(pairs, fc.integer({ min: 0, max: 16 }), (given, sixteenths) => {
        const share = sixteenths / 16
        const total = given.reduce((sum, [, weight]) => sum + weight, 0)
        const sorted = [...given].sort((a, b) => a[0] - b[0])
        let sum = 0
        const expected = sorted.find(([, weight]) => {
          sum += weight
          return sum >= share * total
        })![0]
        const [values, weights] = [given.map(([v]) => v), given.map(([, w]) => w)]
        expect(weightedQuantiles(values, weights, [share])).toEqual([expected])
      }),
    )
  })
})
