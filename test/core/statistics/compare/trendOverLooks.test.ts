import { describe, expect, test } from 'vitest'
import { numericFactor } from '../../../../src/core/statistics/compare/factor.ts'
import { levelAtLook } from '../../../../src/core/statistics/compare/looks.ts'
import { plainSpecimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { trendOverLooks } from '../../../../src/core/statistics/compare/trendOverLooks.ts'
import { tQuantile } from '../../../../src/core/statistics/distributions/t.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'

const groupsOf = (values: Readonly<Record<string, readonly number[]>>) =>
  Object.entries(values).map(([name, own]) => ({
    name,
    specimens: own.map((v, i) => plainSpecimen(`${name} ${i}`, name, v)),
  }))
const looks = { earlier: [], planned: 3, stages: 2 }

test('a single look, and one with nothing left to spend, keep the plain regression', () => {
  const groups = groupsOf({ '10 mm': [50, 52, 48], '20 mm': [61, 66, 57], '30 mm': [70, 84, 65] })
  expect(trendOverLooks(groups, null, 3)).toEqual(numericFactor(groups))
  const spent = { earlier: [3, 6], planned: 3, stages: 2 }
  expect(trendOverLooks(groups, spent, 9)).toEqual(numericFactor(groups))
})

describe('the standard error at a look', () => {
  const errorOf = (groups: ReturnType<typeof groupsOf>): number => {
    const { ci95, df } = trendOverLooks(groups, looks, 3)!
    return (ci95[1] - ci95[0]) / 2 / tQuantile(1 - levelAtLook(0.05, looks, 3, 1) / 2, df)
  }
  test('is that of each group’s own scatter where the ends scatter most', () => {
    // By hand: the weights of the three means are -1/20, 0, 1/20; variances 1, 1 and 49, three values each.
    const groups = groupsOf({ '10 mm': [49, 50, 51], '20 mm': [59, 60, 61], '30 mm': [63, 70, 77] })
    expect(errorOf(groups)).toBeCloseTo(Math.sqrt((1 + 49) / 3) / 20, 12)
  })
  test('is that of the regression where the middle scatters most', () => {
    const groups = groupsOf({ '10 mm': [49, 50, 51], '20 mm': [53, 60, 67], '30 mm': [69, 70, 71] })
    const { slope, t } = numericFactor(groups)!
    expect(errorOf(groups)).toBeCloseTo(slope / t, 12)
  })
  test('of a slope of nothing is told too', () => {
    const groups = groupsOf({ '10 mm': [49, 50, 51], '20 mm': [43, 50, 57], '30 mm': [49, 50, 51] })
    const { ci95, df } = numericFactor(groups)!
    expect(errorOf(groups)).toBeCloseTo((ci95[1] - ci95[0]) / 2 / tQuantile(0.975, df), 12)
    expect(trendOverLooks(groups, looks, 3)!.p).toBeGreaterThan(0.99)
  })
})

test('the interval leaves 0 out exactly where p is under 5 in 100', () => {
  const r = seededRandom(12)
  let seen = 0
  for (let study = 0; study < 40; study++) {
    const of = (middle: number, sd: number) => [0, 1, 2].map(() => middle + sd * r.normal())
    const { ci95, p } = trendOverLooks(
      groupsOf({ '1 g': of(20, 1), '2 g': of(21, 2), '3 g': of(23, 3) }),
      looks,
      3,
    )!
    expect(ci95[0] > 0 || ci95[1] < 0).toBe(p < 0.05)
    if (p < 0.05) seen++
  }
  expect(seen).toBeGreaterThan(3)
  expect(seen).toBeLessThan(37)
})
