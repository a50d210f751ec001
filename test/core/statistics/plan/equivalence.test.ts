import { expect, test } from 'vitest'
import { simultaneousHalf } from '../../../../src/core/statistics/compare/simultaneous.ts'
import { welch } from '../../../../src/core/statistics/compare/welch.ts'
import { equivalencePower, perGroupForEquivalence } from '../../../../src/core/statistics/plan/equivalence.ts'
import { makePlan } from '../../../../src/core/statistics/plan/makePlan.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'

test('the planned power is had: 1,500 studies of two equal variants', () => {
  const random = seededRandom(3)
  const n = perGroupForEquivalence(10, { sd: 8, pairs: 1 })!
  let shown = 0
  for (let study = 0; study < 1500; study++) {
    const [x, y] = [0, 1].map(() => Float64Array.from({ length: n }, () => 100 + 8 * random.normal())) as [
      Float64Array,
      Float64Array,
    ]
    const e = { ...welch(x, y)!, shared: 0 }
    if (Math.abs(e.difference) + simultaneousHalf(e, { count: 1, level: 0.1 }) < 10) shown++
  }
  expect(Math.abs(shown / 1500 - equivalencePower(10, n, { sd: 8, pairs: 1 }))).toBeLessThan(0.035)
})

test('more scatter, more pairs and a smaller margin ask for more', () => {
  const base = perGroupForEquivalence(10, { sd: 8, pairs: 1 })!
  expect(perGroupForEquivalence(10, { sd: 12, pairs: 1 })!).toBeGreaterThan(base)
  expect(perGroupForEquivalence(10, { sd: 8, pairs: 3 })!).toBeGreaterThan(base)
  expect(perGroupForEquivalence(5, { sd: 8, pairs: 1 })!).toBeGreaterThan(3 * base)
})

test('a plan says both', () => {
  const plan = makePlan({
    variants: ['a', 'b'],
    scatter: { mean: 100, sd: 8, from: 'guess', text: 'a guess' },
    goals: {
      difference: null,
      halfWidth: null,
      boundWithin: null,
      boundAbove: null,
      within: 10,
      proof: { share: 0.9, letGo: 0 },
    },
    power: 0.8,
    unit: 'N',
    seed: 1,
    perGroup: null,
    rig: null,
    soFar: null,
  })
  expect(plan.goals.map(g => g.goal)).toEqual(['equivalence', 'proof'])
  expect(plan.perGroup).toBe(29)
  expect(plan.because).toMatch(
    /pull 29 of each to show with 95 % confidence that 90 % hold a given load, all of which must hold/,
  )
})
