import { describe, expect, test } from 'vitest'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import {
  alarmsIfUnplanned,
  type Looks,
  levelAtLook,
  pOverLooks,
  standingAtLook,
} from '../../../../src/core/statistics/compare/looks.ts'
import { looksOf, withLook, withMemoryOf } from '../../../../src/core/statistics/compare/rememberedLooks.ts'
import { plainSpecimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { welch } from '../../../../src/core/statistics/compare/welch.ts'
import { levelsBySpending, spentByLevels } from '../../../../src/core/statistics/plan/boundaries.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'

test('the first look spends four of the five in a hundred', () => {
  expect(levelAtLook(0.05, { earlier: [] }, 5, 3)).toBeCloseTo(0.04, 12)
})

describe('bounds of two looks', () => {
  test('with equal spending at half and whole the information: Pocock’s 0.0294 each (Biometrika 64 (1977) 191)', () => {
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

test('a comparison that is looked at once more with the same specimens says the same', () => {
  const random = seededRandom(5)
  // Unlike scatters, by which a look that is one of several is calibrated.
  const specimens = ['a', 'b', 'c'].flatMap((group, g) =>
    Array.from({ length: 5 }, (_, i) =>
      plainSpecimen(`${group}${i}`, group, 20 + (3 * g + 1) * random.normal()),
    ),
  )
  const judged = (looks: Looks | null) =>
    compareGroups(specimens, { quantity: 'peakForce', unit: 'N', looks }).pairs.map(
      ({ ci95, pAdjusted, seen }) => [ci95, pAdjusted, seen],
    )
  expect(judged(looksOf(withLook(null, 5)))).toEqual(judged(null))
  expect(judged({ earlier: [3], planned: null, stages: 2 })).not.toEqual(judged(null))
})

// Armitage, McPherson and Rowe, J. R. Statist. Soc. A 132 (1969) 235, table 2: repeated tests at 5 %, equal steps.
test.each([
  [1, 0.05],
  [2, 0.083],
  [3, 0.107],
  [4, 0.126],
  [5, 0.142],
])('%i looks, each at 5 %%, raise a false alarm in %s of the studies', (looks, share) => {
  const earlier = Array.from({ length: looks - 1 }, (_, i) => 4 * (i + 1))
  expect(alarmsIfUnplanned(0.05, { earlier }, 4 * looks)).toBeCloseTo(share, 3)
})

describe('a planned number of looks', () => {
  const looks = { planned: 5, stages: 2 }
  test('the last may spend all that is left, one beyond it nothing', () => {
    expect(standingAtLook({ ...looks, earlier: [] }, 5)).toEqual({ stage: 1, spent: 0.8 })
    expect(standingAtLook({ ...looks, earlier: [5] }, 8)).toEqual({ stage: 2, spent: 1 })
    expect(levelAtLook(0.05, { ...looks, earlier: [5, 8] }, 11, 1)).toBe(0)
  })
  test('over both looks 5 in 100 are spent, as integrating back shows', () => {
    const levels = [
      levelAtLook(0.05, { ...looks, earlier: [] }, 5, 1),
      levelAtLook(0.05, { ...looks, earlier: [5] }, 8, 1),
    ]
    expect(spentByLevels([5 / 8, 1], levels)).toBeCloseTo(0.05, 9)
  })
  test('a look before all are pulled spends what O’Brien and Fleming’s form leaves it', () => {
    expect(standingAtLook({ planned: 10, stages: 2, earlier: [] }, 5).stage).toBe(0)
    const level = levelAtLook(0.05, { planned: 10, stages: 2, earlier: [] }, 5, 1)
    expect(level).toBeGreaterThan(0)
    expect(level).toBeLessThan(0.003)
    // And hardly touches what the planned look itself has.
    expect(levelAtLook(0.05, { planned: 10, stages: 2, earlier: [5] }, 10, 1)).toBeGreaterThan(0.039)
  })
  test('taken back to fewer, the looks at more do not count', () => {
    expect(levelAtLook(0.05, { ...looks, earlier: [5, 8] }, 8, 1)).toBe(
      levelAtLook(0.05, { ...looks, earlier: [5] }, 8, 1),
    )
  })
})

describe('what a comparison says of its looks', () => {
  const random = seededRandom(6)
  const specimens = ['a', 'b'].flatMap(group =>
    Array.from({ length: 8 }, (_, i) => plainSpecimen(`${group}${i}`, group, 20 + random.normal())),
  )
  const warningAt = (looks: Looks) =>
    compareGroups(specimens, { quantity: 'peakForce', unit: 'N', looks }).warnings.find(w =>
      w.code.startsWith('looks'),
    )
  test('one more than planned: with the false alarms that it makes', () => {
    const warning = warningAt({ earlier: [5], planned: null, stages: 1 })!
    expect(warning.code).toBe('looks-unplanned')
    expect(warning.text).toMatch(/compared before with 5 of each.* is about 7\.\d %/)
    expect(
      compareGroups(specimens, { quantity: 'peakForce', unit: 'N', looks: { earlier: [5], stages: 1 } })
        .family.level,
    ).toBe(0.05)
  })
  test('the last that was planned', () =>
    expect(warningAt({ earlier: [5], planned: 5, stages: 2 })!.text).toMatch(
      /^Look 2 of 2 at this study: with it all of the 5 % .* is spent/,
    ))
  test('an early one', () =>
    expect(warningAt({ earlier: [], planned: 12, stages: 2 })!.text).toMatch(
      /^Not all of the 12 planned of each are pulled/,
    ))
  test('after an early one the next step is to pull what was planned', () => {
    const { needMore, answer } = compareGroups(specimens, {
      quantity: 'peakForce',
      unit: 'N',
      looks: { earlier: [], planned: 12, stages: 2 },
    })
    expect(needMore).toEqual({ perGroup: 4, inAll: 12, toSee: null, toSeePct: null })
    expect(answer!.next.text).toMatch(/^Pull 4 more of each/)
  })
  test('a single planned one is as if there were no looks', () =>
    expect(warningAt({ earlier: [], planned: null, stages: 1 })).toBeUndefined())
})

describe('what a study remembers', () => {
  test('looks are added once each, beside whatever else the plan holds', () => {
    const first = withLook({ perGroup: 5, asked: { seed: 3 } }, 5)!
    expect(first).toEqual({ perGroup: 5, asked: { seed: 3 }, lookedAt: [5] })
    expect(withLook(first, 5)).toBeNull()
    expect(withLook(first, 4)).toBeNull()
    expect(withLook(first, 8)!.lookedAt).toEqual([5, 8])
    expect(withLook(null, 3)).toEqual({ lookedAt: [3] })
    expect(withLook(null, 1.5)).toBeNull()
  })
  test('a new plan keeps them', () =>
    expect(withMemoryOf({ lookedAt: [5] }, { perGroup: 9 })).toEqual({ perGroup: 9, lookedAt: [5] }))
  test('of a study that planned one look, the first is a single one and the next has nothing left', () => {
    expect(looksOf({ perGroup: 5 })).toBeNull()
    expect(looksOf({ perGroup: 5, lookedAt: [5] })).toEqual({ earlier: [5], planned: null, stages: 1 })
  })
  test('with stages planned all looks count, and those before the planned number as early ones', () =>
    expect(looksOf({ perGroup: 5, looks: { stages: 3 }, lookedAt: [8, 5, 5] })).toEqual({
      earlier: [5, 8],
      planned: 5,
      stages: 3,
    }))
  test.each([[null], ['?'], [{ lookedAt: 'no', looks: 3 }], [{ lookedAt: [null, -2] }]])(
    'nothing from %j',
    plan => expect(looksOf(plan)).toBeNull(),
  )
})

test('what is spent is told to as many digits as tell it from all of it', () => {
  const random = seededRandom(3)
  const specimens = ['a', 'b'].flatMap(group =>
    Array.from({ length: 9 }, (_, i) => plainSpecimen(`${group}${i}`, group, 20 + random.normal())),
  )
  const { warnings } = compareGroups(specimens, {
    quantity: 'peakForce',
    unit: 'N',
    looks: { earlier: [3, 6] },
  })
  expect(warnings.find(w => w.code === 'looks')!.text).toMatch(
    /^Look 3 at this study: up to here 4\.96 % of the 5 %/,
  )
})
