import { expect, test } from 'vitest'
import { meanInterval, sdInterval } from '../../../../src/core/statistics/group/intervals.ts'
import { mean, standardDeviation } from '../../../../src/core/statistics/group/moments.ts'
import { reference } from '../../../reference/reference.ts'

interface Example {
  id: string
  data: number[]
  recomputed: { ci95: [number, number]; mean: number; sd: number }
}
const { examples } = reference<{ examples: Example[] }>('nist_handbook_examples.json')

test('e-Handbook 1.3.5.2: limits of the mean of 195 calibration factors', () => {
  const { data, recomputed } = examples.find(e => e.id === 'confidence_mean_zarr13')!
  const [low, high] = meanInterval(data)!
  expect(low).toBeCloseTo(9.258242, 6) // printed
  expect(high).toBeCloseTo(9.264679, 6) // printed
  expect(low).toBeCloseTo(recomputed.ci95[0], 10)
  expect(high).toBeCloseTo(recomputed.ci95[1], 10)
})

test('three repeats of 11.46, 8.66 and 9.88', () => {
  // common practice, no source
  const repeats = [11.46, 8.66, 9.88]
  expect(mean(repeats)).toBeCloseTo(10, 12)
  expect(meanInterval(repeats)!.map(v => v.toFixed(3))).toEqual(['6.513', '13.487'])
})

test('interval of the standard deviation', () => {
  // scipy 1.17.1: s = np.std(x, ddof=1); s*np.sqrt(4/stats.chi2.ppf([.975, .025], 4)), x = [1, 2, 4, 8, 9]
  const [low, high] = sdInterval([1, 2, 4, 8, 9])!
  expect(low).toBeCloseTo(2.13513432, 7)
  expect(high).toBeCloseTo(10.24050727, 7)
  expect(standardDeviation([1, 2, 4, 8, 9])).toBeCloseTo(3.5637059362, 9)
})

test('a wider confidence is a wider interval', () => {
  const [low, high] = meanInterval([1, 2, 4], 0.99)!
  const [innerLow, innerHigh] = meanInterval([1, 2, 4], 0.9)!
  expect(low).toBeLessThan(innerLow)
  expect(high).toBeGreaterThan(innerHigh)
})

test('one value, none, or equal ones have no interval', () => {
  for (const values of [[], [5], [5, 5, 5]]) {
    expect(meanInterval(values)).toBeNull()
    expect(sdInterval(values)).toBeNull()
  }
})
