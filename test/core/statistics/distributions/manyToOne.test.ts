import { describe, expect, test } from 'vitest'
import {
  manyToOneCritical,
  manyToOneUpperTail,
} from '../../../../src/core/statistics/distributions/manyToOne.ts'
import { maximumModulusUpperTail } from '../../../../src/core/statistics/distributions/studentizedMaximumModulus.ts'
import { tTwoSided } from '../../../../src/core/statistics/distributions/t.ts'

const alike = (count: number): number[] => Array.from({ length: count }, () => Math.SQRT1_2)

// SciPy 1.17.1: integrate.quad over the control's z and over s = sqrt(chi2/df), norm.cdf inside, epsrel 1e-12.
test.each([
  [0.5, [0.3, 0.9, 0.6], 7.3, 0.930593029647],
  [2, [0.3, 0.9, 0.6], 7.3, 0.199104007163],
  [3, [0.3, 0.9, 0.6], 7.3, 0.048432913422],
  [6, [0.3, 0.9, 0.6], 7.3, 0.001244272166],
  [2, [0.7, 0.7], 4, 0.189314582577],
  [2.5, [Math.SQRT1_2, Math.SQRT1_2, Math.SQRT1_2], 1, 0.37460191261],
  [2.5, [Math.SQRT1_2, Math.SQRT1_2, Math.SQRT1_2], 1.2, 0.33616969002],
  [3, [0.5, 0.5, 0.2], Infinity, 0.00804420891],
])('P(max > %s), loadings %j, df %s', (t, loadings, df, p) => {
  expect(manyToOneUpperTail(t, loadings, df)).toBeCloseTo(p, 7)
})

// Dunnett, Biometrics 20 (1964) 482, table of two-sided 5 % points, groups of one size (from memory, two decimals).
test.each([
  [2, 5, 3.03],
  [2, 10, 2.57],
  [3, 8, 2.88],
  [4, 20, 2.65],
  [9, 60, 2.77],
  [3, Infinity, 2.35],
  [6, Infinity, 2.57],
])('the table of Dunnett: %i against a control, df %s', (count, df, critical) => {
  expect(manyToOneCritical(0.05, alike(count), df)).toBeCloseTo(critical, 2)
})

describe('the worked example of Dunnett, JASA 50 (1955) 1096: breaking strength of cloth by three processes', () => {
  // Means 50, 61, 52, 45 of three each, s² = 19 on 8 degrees of freedom. SciPy 1.17.1, stats.dunnett (draws, to 1e-3).
  const error = Math.sqrt((19 * 2) / 3)
  test.each([
    [11, 0.0365],
    [2, 0.8964],
    [-5, 0.4092],
  ])('difference %s', (difference, p) => {
    expect(manyToOneUpperTail(Math.abs(difference) / error, alike(3), 8)).toBeCloseTo(p, 3)
  })
  test('the allowance either way: P = 0.05 at 10.24879 by the quadrature above', () => {
    expect(manyToOneCritical(0.05, alike(3), 8) * error).toBeCloseTo(10.24879, 4)
  })
})

test('groups of unlike numbers: the blood counts of Dunnett 1955', () => {
  // Data and p 0.62004941, 0.0059035 (by draws: “may vary”) as printed in the documentation of SciPy, stats.dunnett and the tutorial
  // “Dunnett's test”. By quadrature as above: 0.6201019800, 0.0058253608.
  const control = [7.4, 8.5, 7.2, 8.24, 9.84, 8.32]
  const drugs = [
    [9.76, 8.8, 7.68, 9.36],
    [12.8, 9.68, 12.16, 9.2, 10.55],
  ]
  const mean = (v: readonly number[]) => v.reduce((a, b) => a + b, 0) / v.length
  const squares = (v: readonly number[]) => v.reduce((sum, x) => sum + (x - mean(v)) ** 2, 0)
  const df = 15 - 3
  const variance = (squares(control) + squares(drugs[0]!) + squares(drugs[1]!)) / df
  const loadings = drugs.map(({ length }) => Math.sqrt(length / (length + control.length)))
  const p = drugs.map(drug => {
    const error = Math.sqrt(variance * (1 / drug.length + 1 / control.length))
    return manyToOneUpperTail((mean(drug) - mean(control)) / error, loadings, df)
  })
  expect(p[0]).toBeCloseTo(0.62004941, 3)
  expect(p[0]).toBeCloseTo(0.62010198002, 7)
  expect(p[1]).toBeCloseTo(0.00582536085, 8)
  expect(Math.abs(p[1]! - 0.0059035)).toBeLessThan(1e-4)
})

test('with nothing in common it is the studentized maximum modulus; one alone is Student’s t', () => {
  expect(manyToOneUpperTail(2.5, [0, 0, 0], 10)).toBeCloseTo(maximumModulusUpperTail(2.5, 3, 10), 8)
  expect(manyToOneUpperTail(2.5, [0.7], 6)).toBe(tTwoSided(2.5, 6))
})

test('chances too small to be 1 less something keep their digits', () => {
  const [beyond, each] = [manyToOneUpperTail(15, alike(2), Infinity), tTwoSided(15, Infinity)]
  expect(beyond / each).toBeGreaterThan(1.9)
  expect(beyond / each).toBeLessThanOrEqual(2)
})
