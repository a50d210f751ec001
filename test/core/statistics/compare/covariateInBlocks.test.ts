import { describe, expect, test } from 'vitest'
import {
  blockedLayout,
  type Observation,
  twoWayLayout,
} from '../../../../src/core/statistics/compare/blocks.ts'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { simultaneousP } from '../../../../src/core/statistics/compare/simultaneous.ts'
import { plainSpecimen, type Specimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { comparisonSchema } from '../../../../src/core/statistics/document.ts'
import { type Random, seededRandom } from '../../../../src/core/statistics/random.ts'

/** Invented: variant, day, width in mm, force in N. Figures by NumPy 2, linalg.lstsq, and SciPy 1.17.1, stats.f.sf. */
const ROWS =
  '0 0 10.2 51.0|0 0 9.6 49.3|0 1 10.4 54.9|0 1 9.1 51.5|0 2 10.9 50.8|0 2 9.9 47.9|1 0 10.1 53.9|1 0 10.8 55.8|1 1 9.4 55.2|1 1 10.0 57.1|1 2 9.7 50.4|1 2 10.5 53.1|2 0 9.9 49.0|2 0 10.3 50.6|2 1 9.8 53.2|2 1 10.6 54.8|2 2 10.2 48.8|2 2 9.5 46.3'
const rows = ROWS.split('|').map(row => row.split(' ').map(Number) as [number, number, number, number])

describe('three variants on three days, by width', () => {
  const layout = blockedLayout(rows.map(([group, block, x, value]) => ({ group, block, x, value })))
  if (layout === null || layout === 'untied') throw new Error('no layout')
  test('the interaction after the covariate', () => {
    expect(layout.interaction).toMatchObject({ df1: 4, df2: 8 })
    expect(layout.interaction!.f).toBeCloseTo(0.9405856636, 9)
    expect(layout.interaction!.p).toBeCloseTo(0.4877703303, 9)
  })
  test('so few days cannot exclude it: the means of the cells are judged, one degree less for the slope', () => {
    expect(layout.interaction!.judgedAgainst).toBe(true)
    expect(layout.pairs[0]!.df).toBe(3)
  })
})

describe('the same, the interaction taken for excluded', () => {
  const layout = twoWayLayout(rows.map(([group, block, x, value]) => ({ group, block, x, value })))
  if (layout === null || layout === 'untied') throw new Error('no layout')
  test('slope, means at one width, and one slope for all', () => {
    const { covariate } = layout
    expect(covariate!.slope).toBeCloseTo(2.831078131820167, 10)
    expect(covariate!.t).toBeCloseTo(20.022619745629903, 8)
    expect(covariate!.sdWithout).toBeCloseTo(1.5571176527852295, 10)
    expect(covariate!.slopesAlike!.f).toBeCloseTo(0.9481804851798497, 8)
    expect(covariate!.slopesAlike!.p).toBeCloseTo(0.4196906873418102, 8)
    const adjusted = [50.99436927106062, 54.15563072893928, 50.449999999999946]
    for (const [g, mean] of adjusted.entries()) expect(covariate!.adjusted[g]).toBeCloseTo(mean, 9)
  })
  test.each([
    [0, -3.161261457878659, 0.1597953688636787],
    [1, 0.5443692710606718, 0.1595867132331819],
    [2, 3.705630728939331, 0.1595867132331819],
  ])('pair %i', (i, difference, error) => {
    expect(layout.pairs[i]!.difference).toBeCloseTo(difference, 9)
    expect(layout.pairs[i]!.standardError).toBeCloseTo(error, 9)
    expect(layout.pairs[i]!.df).toBe(12)
  })
})

describe('the same, one of each in a cell', () => {
  // The first of each cell: the layout is the plain one, with a slope.
  const first = rows.filter((_, i) => i % 2 === 0)
  const layout = blockedLayout(first.map(([group, block, x, value]) => ({ group, block, x, value })))
  if (layout === null || layout === 'untied') throw new Error('no layout')
  test('has one degree of freedom less than without', () => {
    const plain = blockedLayout(first.map(([group, block, , value]) => ({ group, block, value })))
    if (plain === null || plain === 'untied') throw new Error('no layout')
    expect(plain.pairs[0]!.df).toBe(4)
    expect(layout.pairs[0]!.df).toBe(3)
    expect(layout.residualSd).toBeLessThan(plain.residualSd)
  })
})

const specimens = (given: readonly Observation[]): Specimen[] =>
  given.map(({ group, block, x, value }, i) => ({
    ...plainSpecimen(`s${i}`, `v${group}`, value),
    block: `d${block}`,
    covariate: x ?? null,
  }))
const compare = (given: readonly Specimen[]) =>
  compareGroups(given, { quantity: 'peakForce', unit: 'N', blocksBy: 'day', covariate: 'width' })

/** Two variants in eight days, one of each a day; strength goes by 3 N for a mm. */
const days = (r: Random, apart: number, blocks = 8, reacts = 0) =>
  Array.from({ length: blocks }, (_, block) => {
    const day = 5 * r.normal()
    return [0, 1].map((group): Observation => {
      const x = 10 + r.normal()
      return {
        group,
        block,
        x,
        value: 50 + apart * group + day + 3 * x + reacts * r.normal() + 0.5 * r.normal(),
      }
    })
  }).flat()

test('a comparison within days takes the width out too, and says both', () => {
  const found = compare(specimens(days(seededRandom(1), 2)))
  expect(found.covariate).toMatchObject({ name: 'width', used: true })
  expect(found.covariate!.slope).toBeCloseTo(3, 0)
  expect(found.pairs[0]).toMatchObject({ decidedBy: 'blocks', seen: true })
  expect(found.warnings.find(w => w.code === 'covariate')!.text).toMatch(/same width, within a day\./)
  expect(comparisonSchema.safeParse(found).error).toBeUndefined()
  const [first, second] = found.covariate!.adjusted
  expect(second!.mean - first!.mean).toBeCloseTo(-found.pairs[0]!.difference!, 9)
})

test('where a specimen lacks it the days are judged without, and it says so', () => {
  const lacking = specimens(days(seededRandom(1), 2)).map((s, i) => (i === 3 ? { ...s, covariate: null } : s))
  const found = compare(lacking)
  expect(found.covariate).toBeNull()
  expect(found.pairs[0]!.decidedBy).toBe('blocks')
  expect(found.warnings.find(w => w.code === 'covariate-not-used')!.text).toMatch(/beside the day/)
})

test('a width that is the same in all tells nothing, and nothing breaks', () => {
  const flat = specimens(days(seededRandom(2), 2)).map(s => ({ ...s, covariate: 10 }))
  const found = compare(flat)
  expect(found.covariate).toBeNull()
  expect(found.pairs[0]!.decidedBy).toBe('blocks')
})

test('not where the variants change with it each in its own way', () => {
  const r = seededRandom(4)
  const given = days(r, 0).map(o => ({ ...o, value: o.value + (o.group === 1 ? -6 * o.x! : 0) }))
  const found = compare(specimens(given))
  expect(found.covariate!.used).toBe(false)
  expect(found.warnings.find(w => w.code === 'covariate-not-used')!.text).toMatch(
    /not change with width in the same/,
  )
})

const seen = (observations: readonly Observation[]): boolean => {
  const layout = blockedLayout(observations)
  if (layout === null || layout === 'untied') return false
  return simultaneousP({ ...layout.pairs[0]!, shared: 0 }, { count: 1 }) < 0.05
}

test('equal variants are called different 5 times in 100; a true difference is seen far more often than without', () => {
  const r = seededRandom(6)
  let [alarms, withX, without] = [0, 0, 0]
  for (let run = 0; run < 1_000; run++) if (seen(days(r, 0))) alarms++
  for (let run = 0; run < 200; run++) {
    const given = days(r, 1.5)
    if (seen(given)) withX++
    if (seen(given.map(({ group, block, value }) => ({ group, block, value })))) without++
  }
  expect(alarms).toBeGreaterThan(33)
  expect(alarms).toBeLessThan(70)
  expect(withX).toBeGreaterThan(150)
  expect(without).toBeLessThan(60)
})
