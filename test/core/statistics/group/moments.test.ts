import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  lag1Autocorrelation,
  mean,
  median,
  quantileSorted,
  sorted,
  standardDeviation,
} from '../../../../src/core/statistics/group/moments.ts'
import { digits, reference } from '../../../reference/reference.ts'

interface StrdSet {
  name: string
  data?: number[]
  data_as_digit_string?: string
  certified: { mean: string; sd_n_minus_1: string; lag1_autocorrelation: string }
}
const { sets } = reference<{ sets: StrdSet[] }>('nist_strd_univariate.json')

/** NumAcc2 to 4 are a pattern, as NIST describes them: a middle value, then one step below and above it by turns. */
const alternating = (middle: number, low: number, high: number): number[] => [
  middle,
  ...Array.from({ length: 1000 }, (_, i) => (i % 2 === 0 ? low : high)),
]
const patterns: Readonly<Record<string, number[]>> = {
  NumAcc2: alternating(1.2, 1.1, 1.3),
  NumAcc3: alternating(1000000.2, 1000000.1, 1000000.3),
  NumAcc4: alternating(10000000.2, 10000000.1, 10000000.3),
}
const dataOf = (set: StrdSet): number[] =>
  set.data ?? patterns[set.name] ?? Array.from(set.data_as_digit_string ?? '', Number)

// Digits reached. NumAcc3 and 4 cannot be had closer in doubles: 10000000.1 and .3 are not 0.2 apart in binary.
const reached: Readonly<Record<string, readonly [mean: number, sd: number, lag1: number]>> = {
  Lew: [15, 15, 14],
  Lottery: [15, 15, 14],
  Mavro: [15, 13, 13],
  Michelso: [15, 13, 13],
  PiDigits: [15, 14, 12],
  NumAcc1: [15, 15, 15],
  NumAcc2: [15, 14, 14],
  NumAcc3: [15, 9, 11],
  NumAcc4: [15, 8, 10],
}

describe('NIST StRD univariate: certified values', () => {
  test.each(sets)('$name', set => {
    const values = dataOf(set)
    const [m, s, r] = reached[set.name]!
    expect(digits(mean(values), Number(set.certified.mean))).toBeGreaterThanOrEqual(m)
    expect(digits(standardDeviation(values), Number(set.certified.sd_n_minus_1))).toBeGreaterThanOrEqual(s)
    const lag1 = lag1Autocorrelation(values)!
    expect(digits(lag1, Number(set.certified.lag1_autocorrelation))).toBeGreaterThanOrEqual(r)
  })
})

describe('quantiles', () => {
  test('rule R-7: straight lines between the values', () => {
    // numpy 2.4.6: np.quantile([1, 2, 4, 8], [0, .25, .5, .75, .9, 1], method='linear')
    const ordered = [1, 2, 4, 8]
    const got = [0, 0.25, 0.5, 0.75, 0.9, 1].map(p => quantileSorted(ordered, p))
    const expected = [1, 1.75, 3, 5, 6.8, 8]
    got.forEach((q, i) => {
      expect(q).toBeCloseTo(expected[i]!, 12)
    })
  })
  test('the median of an odd and an even count', () => {
    expect(median([3, 1, 2])).toBe(2)
    expect(median([4, 1, 3, 2])).toBe(2.5)
    expect(median([7])).toBe(7)
  })
  test('sorting leaves the list as it was', () => {
    const list = [3, 1, 2]
    expect([...sorted(list)]).toEqual([1, 2, 3])
    expect(list).toEqual([3, 1, 2])
  })
})

const list = fc.array(fc.double({ min: -1e4, max: 1e4, noNaN: true }), { minLength: 2, maxLength: 40 })

describe('whatever the values', () => {
  test('a shift moves the mean and leaves the spread', () => {
    fc.assert(
      fc.property(list, fc.double({ min: -1e6, max: 1e6, noNaN: true }), (values, shift) => {
        const moved = values.map(v => v + shift)
        expect(mean(moved)).toBeCloseTo(mean(values) + shift, 6)
        expect(standardDeviation(moved)).toBeCloseTo(standardDeviation(values), 6)
      }),
      { seed: 1, numRuns: 300 },
    )
  })
  test('a scale multiplies both', () => {
    fc.assert(
      fc.property(list, fc.double({ min: 0.01, max: 100, noNaN: true }), (values, scale) => {
        const scaled = values.map(v => v * scale)
        expect(mean(scaled) / scale).toBeCloseTo(mean(values), 8)
        expect(standardDeviation(scaled) / scale).toBeCloseTo(standardDeviation(values), 8)
      }),
      { seed: 2, numRuns: 300 },
    )
  })
})

test('e-Handbook 1.4.2.8: lag-1 autocorrelation of 195 calibration factors is 0.281', () => {
  const { examples } = reference<{
    examples: { id: string; data: number[]; recomputed: { r1: number } }[]
  }>('nist_handbook_examples.json')
  const { data, recomputed } = examples.find(e => e.id === 'confidence_mean_zarr13')!
  expect(lag1Autocorrelation(data)).toBeCloseTo(0.281, 3)
  expect(lag1Autocorrelation(data)).toBeCloseTo(recomputed.r1, 10)
})

test('values that do not vary have no autocorrelation', () => {
  expect(lag1Autocorrelation([4, 4, 4])).toBeNull()
  expect(lag1Autocorrelation([4])).toBeNull()
})
