import { describe, expect, test } from 'vitest'
import { normalQuantile } from '../../../../src/core/statistics/distributions/normal.ts'
import { nominalLevels } from '../../../../src/core/statistics/plan/boundaries.ts'

const bounds = (information: number[], alpha = 0.05) =>
  nominalLevels(information, alpha).map(p => -normalQuantile(p / 2))

describe('nominalLevels', () => {
  test('five equal looks: 4.877, 3.357, 2.680, 2.290, 2.031 (Lan–DeMets in O’Brien and Fleming’s form, as R’s package RTSA prints them)', () => {
    const published = [4.877, 3.357, 2.68, 2.29, 2.031]
    for (const [k, z] of bounds([0.2, 0.4, 0.6, 0.8, 1]).entries()) expect(z).toBeCloseTo(published[k]!, 3)
  })
  test('four equal looks, one-sided 5 %: 3.74955, 2.53993, 2.01604, 1.72014 (the example of SeqBounds for Julia, README)', () => {
    // Two sides of 10 % are as good as one of 5 %: passing one bound and then the other hardly happens.
    const published = [3.74955, 2.53993, 2.01604, 1.72014]
    for (const [k, z] of bounds([0.25, 0.5, 0.75, 1], 0.1).entries())
      expect(Math.abs(z - published[k]!)).toBeLessThan(2e-3)
  })
  test('unequal looks agree with SciPy: stats.multivariate_normal(cov=√(tᵢ/tⱼ)).cdf(b, lower_limit=−b), brentq', () => {
    const recomputed = [4.3326, 3.9425, 2.8079, 1.974]
    for (const [k, z] of bounds([0.25, 0.3, 0.55, 1]).entries())
      expect(Math.abs(z - recomputed[k]!)).toBeLessThan(4e-4)
  })
  test('a single look at the end spends it all', () => {
    expect(nominalLevels([1], 0.05)[0]).toBeCloseTo(0.05, 12)
  })
  test('forty looks: rising limits, the last well under 0.05', () => {
    const levels = nominalLevels(
      Array.from({ length: 40 }, (_, k) => (k + 1) / 40),
      0.05,
    )
    for (let k = 1; k < 40; k++) expect(levels[k]!).toBeGreaterThan(levels[k - 1]!)
    expect(levels.at(-1)!).toBeGreaterThan(0.03)
    expect(levels.at(-1)!).toBeLessThan(0.045)
  })
})
