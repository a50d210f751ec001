import { describe, expect, test } from 'vitest'
import {
  maximumModulusCritical,
  maximumModulusUpperTail,
} from '../../../../src/core/statistics/distributions/studentizedMaximumModulus.ts'
import { tQuantile, tTwoSided } from '../../../../src/core/statistics/distributions/t.ts'

/**
 * [count, df, critical value at 5 %, upper tail at 3]. Adaptive quadrature of the defining integral over the density of
 * √(χ²/df), SciPy 1.17.1 (integrate.quad, stats.chi2, stats.norm), roots by optimize.brentq.
 */
const SCIPY = [
  [3, 4, 3.744577004161167, 0.09769325879518571],
  [3, 8, 2.958008996264614, 0.04697628156964531],
  [10, 8, 3.6601004531462733, 0.12446974643695137],
  [10, 20.5, 3.1058482923276722, 0.06291615306159046],
  [6, 2, 7.645394268515304, 0.26980789173788],
  [3, Infinity, 2.3877378870708155, 0.008077541171971236],
  [45, 12, 4.052605851550411, 0.2632873891065669],
] as const

describe('against SciPy', () => {
  test.each(SCIPY)('%i values, %d degrees of freedom', (count, df, critical, upper) => {
    expect(maximumModulusCritical(0.05, count, df)).toBeCloseTo(critical, 9)
    expect(maximumModulusUpperTail(3, count, df)).toBeCloseTo(upper, 11)
  })
})

test('one value alone is Student’s t, to the last digit', () => {
  expect(maximumModulusCritical(0.05, 1, 7.3)).toBe(tQuantile(0.975, 7.3))
  expect(maximumModulusUpperTail(2.2, 1, 7.3)).toBe(tTwoSided(2.2, 7.3))
})

test('lies between one value alone and Bonferroni, far out as near', () => {
  for (const t of [0.5, 2, 8, 40]) {
    const upper = maximumModulusUpperTail(t, 6, 9)
    expect(upper).toBeGreaterThan(tTwoSided(t, 9))
    expect(upper).toBeLessThanOrEqual(6 * tTwoSided(t, 9) * (1 + 1e-9))
  }
  expect(maximumModulusUpperTail(0, 6, 9)).toBe(1)
})
