import { describe, expect, test } from 'vitest'
import { bcaInterval } from '../../../../src/core/statistics/group/bootstrap.ts'
import { median, standardDeviation } from '../../../../src/core/statistics/group/moments.ts'

const skewed = [8.2, 9.1, 9.7, 10.4, 10.6, 11.9, 12.3, 12.4, 14.8, 19.5]

describe('BCa interval', () => {
  test('of the mean agrees with SciPy within simulation error', () => {
    // scipy 1.17.1: stats.bootstrap((x,), np.mean, method='BCa', n_resamples=2000000, rng=default_rng(1)): 10.41 to 14.53.
    const [low, high] = bcaInterval(skewed, { resamples: 200_000, seed: 3 })!
    expect(Math.abs(low - 10.41)).toBeLessThan(0.02)
    expect(Math.abs(high - 14.53)).toBeLessThan(0.05)
  })
  test('of the spread agrees with SciPy within simulation error', () => {
    // scipy 1.17.1: the same with np.std (n, not n − 1), 1,000,000 resamples: 1.58206 to 4.91997.
    const spread = (v: Float64Array) => standardDeviation(v) * Math.sqrt((v.length - 1) / v.length)
    const [low, high] = bcaInterval(skewed, { statistic: spread, resamples: 100_000 })!
    expect(Math.abs(low - 1.58206)).toBeLessThan(0.03)
    expect(Math.abs(high - 4.91997)).toBeLessThan(0.05)
  })
  test('the same seed gives the same interval, another seed one close by', () => {
    expect(bcaInterval(skewed, { seed: 7 })).toEqual(bcaInterval(skewed, { seed: 7 }))
    const [low, high] = bcaInterval(skewed, { seed: 7 })!
    const [otherLow, otherHigh] = bcaInterval(skewed, { seed: 8 })!
    expect(otherLow).not.toBe(low)
    expect(Math.abs(otherLow - low)).toBeLessThan(0.15)
    expect(Math.abs(otherHigh - high)).toBeLessThan(0.3)
  })
  test('follows a shift and a scale', () => {
    const [low, high] = bcaInterval(skewed)!
    const moved = bcaInterval(skewed.map(v => 1000 + 4 * v))!
    expect(moved[0]).toBeCloseTo(1000 + 4 * low, 6)
    expect(moved[1]).toBeCloseTo(1000 + 4 * high, 6)
  })
  test('takes another statistic', () => {
    const [low, high] = bcaInterval(skewed, { statistic: median })!
    expect(low).toBeGreaterThanOrEqual(8.2)
    expect(high).toBeLessThanOrEqual(14.8)
    expect(low).toBeLessThan(high)
  })
  test('cannot be had from fewer than five values or from equal ones', () => {
    expect(bcaInterval([1, 2, 3, 4])).toBeNull()
    expect(bcaInterval([3, 3, 3, 3, 3, 3])).toBeNull()
    expect(bcaInterval([0.1, 0.1, 0.1, 0.1, 0.1])).toBeNull()
  })
})
