import { describe, expect, test } from 'vitest'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { levelAtLook, pOverLooks } from '../../../../src/core/statistics/compare/looks.ts'
import { plainSpecimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { welch } from '../../../../src/core/statistics/compare/welch.ts'
import { levelsBySpending } from '../../../../src/core/statistics/plan/boundaries.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'

test('the first look spends four of the five in a hundred', () => {
  expect(levelAtLook(0.05, { earlier: [] }, 5, 3)).toBeCloseTo(0.04, 12)
})

describe('bounds of two looks', () => {
  test('with equal spending at half and whole the information: Pocock’s 0.0294 each (Biometrika 64 (1977) 191; from memory)', () => {
    // Pocock's constant 2.178 spends P(|Z| > 2.178) = 0.0294 at the first look and the rest of 0.05 at the second.
    const levels = levelsBySpending([0.5, 1], look => [0.0294, 0.05][look]!)
    expect(levels[0]).toBeCloseTo(0.0294, 6)
    expect(levels[1]).toBeCloseTo(0.0294, 3)
  })
  test('the second is judged at less than 5 %, and at more than what is left by itself', () => {
    const level = levelAtLook(0.05, { earlier: [5] }, 8, 1)
    expect(level).toBeLessThan(0.04)
    expect(level).toBeGreaterThan(0.05 * 0.2 * 0.8)
  })
})

test('p over the looks is under 0.05 exactly where p at this look is under its level', () => {
  for (const earlier of [[], [4], [4, 7]]) {
    const level = levelAtLook(0.05, { earlier }, 10, 3)
    expect(pOverLooks(level * 0.99, { earlier }, 10, 3)).toBeLessThan(0.05)
    expect(pOverLooks(level * 1.01, { earlier }, 10, 3)).toBeGreaterThan(0.05)
  }
})

test('a study of equal variants that is topped up and looked at again keeps 5 in 100', () => {
  const levels = [levelAtLook(0.05, { earlier: [] }, 4, 1), levelAtLook(0.05, { earlier: [4] }, 8, 1)]
  const random = seededRandom(2)
  let [staged, naive] = [0, 0]
  for (let study = 0; study < 1500; study++) {
    const [x, y] = [0, 1].map(() => Float64Array.from({ length: 8 }, () => random.normal())) as [
      Float64Array,
      Float64Array,
    ]
    const p = [4, 8].map(n => welch(x.subarray(0, n), y.subarray(0, n))!.p)
    if (p.some((one, k) => one < levels[k]!)) staged++
    if (p.some(one => one < 0.05)) naive++
  }
  expect(staged / 1500).toBeLessThan(0.062)
  expect(naive).toBeGreaterThan(1.4 * staged)
})

test('a comparison says which look it is, and its intervals agree with what it calls different', () => {
  const random = seededRandom(5)
  const specimens = ['a', 'b', 'c'].flatMap((group, g) =>
    Array.from({ length: 6 }, (_, i) => plainSpecimen(`${group}${i}`, group, 20 + g + random.normal())),
  )
  const { family, pairs, warnings } = compareGroups(specimens, {
    quantity: 'peakForce',
    unit: 'N',
    looks: { earlier: [3] },
  })
  expect(family.look).toBe(2)
  expect(family.level).toBeLessThan(0.05)
  for (const { ci95, seen, pAdjusted } of pairs) {
    expect(ci95![0] > 0 || ci95![1] < 0).toBe(seen)
    expect(pAdjusted! < 0.05).toBe(seen)
  }
  expect(warnings.find(w => w.code === 'looks')!.text).toMatch(
    /^Look 2 at this study: up to here 4.8 % of the 5 %/,
  )
})
