import { describe, expect, test } from 'vitest'
import { blockedLayout } from '../../../../src/core/statistics/compare/blocks.ts'
import { numericFactor } from '../../../../src/core/statistics/compare/factor.ts'
import { simultaneousP } from '../../../../src/core/statistics/compare/simultaneous.ts'
import { plainSpecimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { welch } from '../../../../src/core/statistics/compare/welch.ts'
import {
  designAgainstControl,
  designInBlocks,
  designOfTrend,
  powerAgainstControl,
  powerInBlocks,
  powerOfTrend,
} from '../../../../src/core/statistics/plan/designs.ts'
import { makePlan } from '../../../../src/core/statistics/plan/makePlan.ts'
import { type Random, seededRandom } from '../../../../src/core/statistics/random.ts'

/** The chance that is planned against how often the comparison's own method sees the difference. */
function share(runs: number, seed: number, seen: (r: Random) => boolean): number {
  const r = seededRandom(seed)
  let count = 0
  for (let run = 0; run < runs; run++) if (seen(r)) count++
  return count / runs
}
const normals = (r: Random, n: number, middle = 0) =>
  Float64Array.from({ length: n }, () => middle + r.normal())

describe('power by simulation', () => {
  test('against a control', () => {
    const planned = powerAgainstControl(1.6, 8, { sd: 1, alpha: 0.05, others: 3 })
    const loadings = [1, 2, 3].map(() => Math.SQRT1_2)
    const found = share(300, 3, r => {
      const control = normals(r, 8)
      const e = { ...welch(normals(r, 8, 1.6), control)!, shared: 0 }
      return simultaneousP(e, { count: 3, loadings }) < 0.05
    })
    expect(Math.abs(found - planned)).toBeLessThan(0.06)
  })
  test('in blocks that variants react to', () => {
    const design = { variants: 3, perBlock: 2, reacts: 0.8 }
    const planned = powerInBlocks(2, 6, { sd: 1, alpha: 0.05, design })
    const found = share(600, 4, r => {
      const observations = [2, 0, 0].flatMap((shift, group) =>
        Array.from({ length: 6 }, (_, block) => {
          const own = shift + 0.8 * r.normal()
          return [0, 1].map(() => ({ group, block, value: own + 3 * block + r.normal() }))
        }).flat(),
      )
      const layout = blockedLayout(observations)
      if (layout === null || layout === 'untied') return false
      return simultaneousP({ ...layout.pairs[0]!, shared: 0 }, { count: 3 }) < 0.05
    })
    // An interaction that the test excludes is judged the easier way, so that a little more is seen.
    expect(found - planned).toBeGreaterThan(-0.05)
    expect(found - planned).toBeLessThan(0.1)
  })
  test('in blocks, all against a control', () => {
    const design = { variants: 4, perBlock: 1, reacts: 0.5, againstControl: true }
    const planned = powerInBlocks(2, 7, { sd: 1, alpha: 0.05, design })
    expect(planned).toBeGreaterThan(
      powerInBlocks(2, 7, { sd: 1, alpha: 0.05, design: { ...design, againstControl: false } }),
    )
    const found = share(400, 8, r => {
      const observations = [0, 2, 0, 0].flatMap((shift, group) =>
        Array.from({ length: 7 }, (_, block) => ({
          group,
          block,
          value: shift + 0.5 * r.normal() + 3 * block + r.normal(),
        })),
      )
      const layout = blockedLayout(observations)
      if (layout === null || layout === 'untied') return false
      const loadings = [1, 2, 3].map(() => Math.SQRT1_2)
      return simultaneousP({ ...layout.pairs[0]!, shared: 0 }, { count: 3, loadings }) < 0.05
    })
    expect(Math.abs(found - planned)).toBeLessThan(0.06)
  })
  test('of a trend', () => {
    const planned = powerOfTrend(1.8, 5, { sd: 1, alpha: 0.05, variants: 4 })
    const found = share(600, 5, r => {
      const groups = [10, 20, 30, 40].map((at, g) => ({
        name: `${at} mm`,
        specimens: Array.from(normals(r, 5, (1.8 * g) / 3), (v, i) =>
          plainSpecimen(`${at} ${i}`, `${at} mm`, v),
        ),
      }))
      return numericFactor(groups)!.p < 0.05
    })
    expect(Math.abs(found - planned)).toBeLessThan(0.06)
  })
})

test('the fewest that do: one less does not', () => {
  const asked = { sd: 1, alpha: 0.05, power: 0.8 }
  const control = designAgainstControl(1.5, { ...asked, others: 4 })!
  expect(
    powerAgainstControl(1.5, control.perGroup, { sd: 1, alpha: 0.05, others: 4 }),
  ).toBeGreaterThanOrEqual(0.8)
  expect(powerAgainstControl(1.5, control.perGroup - 1, { sd: 1, alpha: 0.05, others: 4 })).toBeLessThan(0.8)
  const design = { variants: 3, perBlock: 2, reacts: 0.5 }
  const blocks = designInBlocks(1.5, { ...asked, design })!
  expect(blocks.perGroup).toBe(2 * blocks.blocks)
  expect(powerInBlocks(1.5, blocks.blocks, { sd: 1, alpha: 0.05, design })).toBeGreaterThanOrEqual(0.8)
  expect(powerInBlocks(1.5, blocks.blocks - 1, { sd: 1, alpha: 0.05, design })).toBeLessThan(0.8)
  const trend = designOfTrend(1.5, { ...asked, variants: 4 })!
  expect(powerOfTrend(1.5, trend.perGroup, { sd: 1, alpha: 0.05, variants: 4 })).toBeGreaterThanOrEqual(0.8)
  expect(powerOfTrend(1.5, trend.perGroup - 1, { sd: 1, alpha: 0.05, variants: 4 })).toBeLessThan(0.8)
})

test('two variants make no trend, and one no blocks', () => {
  expect(designOfTrend(1, { sd: 1, alpha: 0.05, power: 0.8, variants: 2 })).toBeNull()
  const design = { variants: 1, perBlock: 2, reacts: 0 }
  expect(designInBlocks(1, { sd: 1, alpha: 0.05, power: 0.8, design })).toBeNull()
})

describe('in a plan', () => {
  const planFor = (goals: object, stages = 1) =>
    makePlan({
      stages,
      variants: ['a', 'b', 'c', 'd'],
      scatter: { mean: null, sd: 8, from: 'guess', text: 'as guessed' },
      goals: { difference: 15, halfWidth: null, boundWithin: null, boundAbove: null, ...goals },
      power: 0.8,
      unit: '%',
      seed: 1,
      perGroup: null,
      rig: null,
      soFar: null,
    })
  test('against a control takes fewer than each with each', () => {
    const [all, control] = [planFor({}), planFor({ againstControl: true })]
    expect(control.perGroup).toBeLessThan(all.perGroup)
    expect(control.because).toMatch(/of 15\.0 % from the control 8 times in 10, then known to ±/)
    expect(control.powerCurve.find(p => p.perGroup === control.perGroup)!.power).toBeGreaterThanOrEqual(0.8)
  })
  test('within blocks the number is one of whole blocks', () => {
    const plan = planFor({ blocks: { perBlock: 2, reacts: 4 } })
    expect(plan.perGroup % 2).toBe(0)
    expect(plan.because).toMatch(/in \d+ blocks of 2 each/)
  })
  test.each([{}, { againstControl: true }, { blocks: { perBlock: 2, reacts: 4 } }])(
    'what several looks cost is counted by the method that judges: %j',
    goals => {
      const [once, thrice] = [planFor(goals), planFor(goals, 3)]
      expect(once.looks).toBeNull()
      const cost = thrice.perGroup - once.perGroup
      expect(thrice.looks!.text).toContain(
        cost === 0
          ? `${once.perGroup} of each do either way`
          : `that costs ${cost} more of each at the first, ${thrice.perGroup} in place of ${once.perGroup}`,
      )
    },
  )
  test('within blocks from a control it says both, and the order has its days', () => {
    const plan = planFor({ blocks: { perBlock: 2, reacts: 4 }, againstControl: true })
    expect(plan.because).toMatch(/from the control 8 times in 10 in \d+ blocks of 2 each/)
    expect(plan.perGroup).toBeLessThan(planFor({ blocks: { perBlock: 2, reacts: 4 } }).perGroup)
    for (const block of plan.blocks) expect(block).toHaveLength(8)
  })
  test.each([
    [{ difference: null, trend: 15 }],
    [{ difference: null, within: 10 }],
    [{ blocks: { perBlock: 2, reacts: 4 } }],
  ])('the curve passes the power that was asked at the number planned: %j', goals => {
    const { powerCurve, perGroup } = planFor(goals)
    expect(powerCurve.find(p => p.perGroup === perGroup)!.power).toBeGreaterThanOrEqual(0.8)
    const before = powerCurve.find(p => p.perGroup === perGroup - 1)
    if (before) expect(before.power).toBeLessThan(0.8)
  })
  test('how well a difference is then known is said for being as good as each other too', () =>
    expect(planFor({ difference: null, within: 10 }).because).toMatch(
      /to within 10\.0 % .*, then known to ± \d/,
    ))
  test('a trend', () =>
    expect(planFor({ difference: null, trend: 15 }).because).toMatch(
      /to see a change of 15\.0 % from the first to the last of 4 variants as a trend 8 times in 10/,
    ))
})
