import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { standardDeviation } from '../../../../src/core/statistics/group/moments.ts'
import {
  detectableDifference,
  perGroupForDifference,
  powerCurve,
  powerOf,
} from '../../../../src/core/statistics/plan/power.ts'
import {
  specimensForBoundAbove,
  specimensForBoundWithin,
  specimensForHalfWidth,
} from '../../../../src/core/statistics/plan/precision.ts'

describe('powerOf', () => {
  // SciPy: stats.nct.sf(tc, df, ncp) + stats.nct.cdf(-tc, df, ncp), tc = stats.t.ppf(0.975, df)
  const cases = [
    { difference: 10, nA: 3, nB: 3, sd: 7, power: 0.27125124478923784 },
    { difference: 5, nA: 12, nB: 12, sd: 4.1, power: 0.8145146368166456 },
    { difference: 2, nA: 5, nB: 9, sd: 3.3, power: 0.17040904685966007 },
  ]
  for (const { power, difference, ...design } of cases)
    test(`${difference} with ${design.nA} and ${design.nB} agrees with SciPy`, () => {
      expect(powerOf(difference, design)).toBeCloseTo(power, 8)
    })
  test('is the chance of a false alarm where there is no difference', () => {
    expect(powerOf(0, { nA: 4, nB: 6, sd: 2 })).toBeCloseTo(0.05, 9)
  })
  test('there is no test with one each, or without scatter', () => {
    expect(powerOf(1, { nA: 1, nB: 1, sd: 1 })).toBeNull()
    expect(powerOf(1, { nA: 3, nB: 3, sd: 0 })).toBeNull()
  })
})

test('three each with the scatter of 11.46, 8.66, 9.88: 4.311, 43 % of the mean (SciPy brentq on stats.nct)', () => {
  expect(detectableDifference({ nA: 3, nB: 3, sd: standardDeviation([11.46, 8.66, 9.88]) })).toBeCloseTo(
    4.311077770966985,
    5,
  )
})

describe('how many', () => {
  test('for a difference: counted up with SciPy stats.nct', () => {
    expect(perGroupForDifference(10, { sd: 7, power: 0.9 })).toBe(12)
    expect(perGroupForDifference(5, { sd: 20 })).toBe(253)
    expect(perGroupForDifference(1, { sd: 1 })).toBe(17) // the usual 17 a group for a difference of one sd
    expect(perGroupForDifference(0, { sd: 1 })).toBeNull()
  })
  test('for a half-width, with assurance: counted up with SciPy stats.t and stats.chi2', () => {
    expect(specimensForHalfWidth(5, { sd: 7 })).toBe(13)
    expect(specimensForHalfWidth(1, { sd: 7 })).toBe(207)
    expect(specimensForHalfWidth(5, { sd: 7, assurance: 0.5 })).toBe(10)
  })
  test('for a lower bound: counted up with SciPy stats.nct', () => {
    expect(specimensForBoundWithin(5, { share: 0.9, sd: 7 })).toBe(17)
    expect(specimensForBoundWithin(10, { share: 0.9, sd: 7 })).toBe(7)
    expect(specimensForBoundWithin(10, { share: 0.99, sd: 7 })).toBe(12)
    expect(specimensForBoundAbove(80, { share: 0.9, sd: 7, mean: 100 })).toBe(10)
    expect(specimensForBoundAbove(85, { share: 0.9, sd: 7, mean: 100 })).toBe(23)
    expect(specimensForBoundAbove(92, { share: 0.9, sd: 7, mean: 100 })).toBeNull()
  })
})

test('power rises with the number and with the difference, and does not care for the unit', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 2, max: 30 }),
      fc.double({ min: 0.1, max: 4, noNaN: true }),
      fc.integer({ min: -6, max: 6 }),
      (n, difference, power) => {
        const at = (k: number, d: number, scale = 1) => powerOf(d * scale, { nA: k, nB: k, sd: scale })!
        expect(at(n + 1, difference)).toBeGreaterThanOrEqual(at(n, difference) - 1e-9)
        expect(at(n, difference * 1.1)).toBeGreaterThanOrEqual(at(n, difference) - 1e-9)
        expect(at(n, difference, 2 ** power)).toBeCloseTo(at(n, difference), 9)
      },
    ),
    { seed: 31, numRuns: 60 },
  )
})

test('the curve begins with two of each', () => {
  const curve = powerCurve(n => powerOf(1, { nA: n, nB: n, sd: 1 }), 5)
  expect(curve.map(p => p.perGroup)).toEqual([2, 3, 4, 5])
  expect(curve[3]!.power).toBeCloseTo(powerOf(1, { nA: 5, nB: 5, sd: 1 })!, 12)
})

test('no number is told for no difference, or without a scatter', () => {
  expect(perGroupForDifference(0, { sd: 1 })).toBeNull()
  expect(perGroupForDifference(1, { sd: 0 })).toBeNull()
  expect(perGroupForDifference(Number.NaN, { sd: 1 })).toBeNull()
})
