import { describe, expect, test } from 'vitest'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { covariateLayout } from '../../../../src/core/statistics/compare/covariate.ts'
import { plainSpecimen, type Specimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { comparisonSchema } from '../../../../src/core/statistics/document.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'

/**
 * Snedecor and Cochran, Statistical Methods, 1967, p. 422 (1989: chapter 18): bacilli before and after three treatments. Data as printed in the
 * SAS/STAT User's Guide, the GLM procedure, example “Analysis of Covariance”.
 */
const BACILLI = [
  '11 6, 8 0, 5 2, 14 8, 19 11, 6 4, 10 13, 6 1, 11 8, 3 0',
  '6 0, 6 2, 7 3, 8 1, 18 18, 8 4, 19 14, 8 9, 5 1, 15 9',
  '16 13, 13 10, 11 18, 9 5, 21 23, 16 12, 12 5, 12 16, 7 1, 12 20',
].flatMap((row, group) =>
  row.split(', ').map(pair => {
    const [x, value] = pair.split(' ').map(Number) as [number, number]
    return { group, x, value }
  }),
)

describe('the worked example of Snedecor and Cochran', () => {
  const found = covariateLayout(BACILLI, 3)!
  test('their slope 0.987, error mean square 16.05 and adjusted means 6.71, 6.82, 10.16', () => {
    expect(found.slope).toBeCloseTo(0.987, 3)
    expect(found.residualSd ** 2).toBeCloseTo(16.05, 2)
    for (const [i, m] of [6.71, 6.82, 10.16].entries()) expect(found.adjusted[i]).toBeCloseTo(m, 2)
  })
  // NumPy lstsq and SciPy 1.17.1, stats.t and stats.f.
  test.each([
    [0, 1, -0.10897133221, 1.79513505795, 0.95205940591],
    [0, 2, -3.44613827993, 1.88678064842, 0.07928458431],
    [1, 2, -3.33716694772, 1.85386642417, 0.08345755218],
  ])('difference of %i and %i', (a, b, difference, error, p) => {
    const pair = found.pairs.find(one => one.a === a && one.b === b)!
    expect(pair.difference).toBeCloseTo(difference, 9)
    expect(pair.standardError).toBeCloseTo(error, 9)
    expect(pair.p).toBeCloseTo(p, 9)
    expect(pair.df).toBe(26)
  })
  test('one slope for each treatment is no better; the treatments do not differ before', () => {
    expect(found.slopesAlike!.p).toBeCloseTo(0.56058477236, 9)
    expect(found.groupsDiffer!.f).toBeCloseTo(1.65885328836, 9)
    expect(found.sdWithout).toBeCloseTo(6.07087765941, 9)
  })
})

test('no layout where the covariate says nothing, or too few are left', () => {
  expect(
    covariateLayout(
      BACILLI.map(o => ({ ...o, x: 3 })),
      3,
    ),
  ).toBeNull()
  expect(
    covariateLayout(
      BACILLI.filter(o => o.group < 1),
      2,
    ),
  ).toBeNull()
  expect(
    covariateLayout(
      [
        { group: 0, x: 1, value: 1 },
        { group: 0, x: 2, value: 2 },
        { group: 1, x: 1, value: 3 },
      ],
      2,
    ),
  ).toBeNull()
})

const strips = (seed: number, slopes: readonly number[], shift = 0): Specimen[] => {
  const random = seededRandom(seed)
  return slopes.flatMap((slope, g) =>
    Array.from({ length: 6 }, (_, i) => {
      const width = 20 + 2 * random.normal()
      return {
        ...plainSpecimen(`v${g} ${i}`, `v${g}`, 50 + g * shift + slope * (width - 20) + random.normal()),
        covariate: width,
      }
    }),
  )
}
const compare = (specimens: readonly Specimen[], options = {}) =>
  compareGroups(specimens, { quantity: 'peakForce', unit: 'N', covariate: 'width', ...options })

describe('in a comparison', () => {
  test('it decides, shrinks the interval, and the document holds what it is', () => {
    const found = compare(strips(1, [3, 3], 4))
    const plain = compare(strips(1, [3, 3], 4), { covariate: null })
    expect(found.pairs[0]!.decidedBy).toBe('covariate')
    const width = (c: typeof found) => c.pairs[0]!.ci95![1] - c.pairs[0]!.ci95![0]
    expect(width(found)).toBeLessThan(width(plain) / 2)
    expect(found.covariate!.slope).toBeGreaterThan(2)
    expect(comparisonSchema.parse(found)).toEqual(found)
    expect(found.warnings.find(w => w.code === 'covariate')!.text).toMatch(/as if all had the same width/)
    const { ci95, seen } = found.pairs[0]!
    expect(ci95![0] > 0 || ci95![1] < 0).toBe(seen)
  })
  test('not where the variants change with it each in its own way', () => {
    const found = compare(strips(2, [4, -4]))
    expect(found.covariate!.used).toBe(false)
    expect(found.pairs[0]!.decidedBy).toBe('welch')
    expect(found.warnings.find(w => w.code === 'covariate-not-used')!.text).toMatch(
      /not change with width in the same way/,
    )
  })
  test('not where one specimen lacks it', () => {
    const lacking = strips(1, [3, 3]).map((s, i) => (i === 0 ? { ...s, covariate: null } : s))
    expect(compare(lacking).pairs[0]!.decidedBy).toBe('welch')
    expect(compare(lacking).warnings.some(w => w.code === 'covariate-not-used')).toBe(true)
  })
  test('equal variants are called different 5 times in 100', () => {
    let seen = 0
    for (let seed = 0; seed < 400; seed++) if (covariateSeen(strips(100 + seed, [3, 3]))) seen++
    expect(seen).toBeGreaterThan(8)
    expect(seen).toBeLessThan(33)
  })
})

function covariateSeen(specimens: readonly Specimen[]): boolean {
  const layout = covariateLayout(
    specimens.map(s => ({ group: Number(s.group[1]), x: s.covariate!, value: s.value! })),
    2,
  )!
  return layout.pairs[0]!.p < 0.05
}
