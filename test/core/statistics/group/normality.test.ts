import { describe, expect, test } from 'vitest'
import { andersonDarling } from '../../../../src/core/statistics/group/andersonDarling.ts'
import { shapiroWilk } from '../../../../src/core/statistics/group/shapiroWilk.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'
import { column, reference, relativeError } from '../../../reference/reference.ts'

const { results } = reference<{
  results: { id: string; value: { shapiro_W: number; shapiro_p: number; AD: number; AD_p: number } }[]
}>('dataset_reference_results.json')

describe.each([
  ['glass', column('datasets/glass_fibre_1_5cm.csv', 'strength')],
  ['carb', column('datasets/carbon_fibre_10mm.csv', 'strength_GPa')],
  ['fat', column('datasets/nist_fatigue_life_aluminium.csv', 'kilocycles')],
  ['ceramic_batch_2', column('datasets/nist_ceramic_strength.csv', 'strength', row => row.batch === '2')],
])('%s', (id, values) => {
  const expected = results.find(r => r.id === `normality_${id}`)!.value
  test('Shapiro–Wilk agrees with R to 10 digits', () => {
    const { statistic, p } = shapiroWilk(values)!
    expect(relativeError(statistic, expected.shapiro_W)).toBeLessThan(1e-10)
    expect(relativeError(p, expected.shapiro_p)).toBeLessThan(1e-10)
  })
  test('Anderson–Darling agrees with R to 11 digits', () => {
    const { statistic, p } = andersonDarling(values)!
    expect(relativeError(statistic, expected.AD)).toBeLessThan(1e-11)
    expect(relativeError(p, expected.AD_p)).toBeLessThan(1e-11)
  })
})

describe('Shapiro–Wilk at every length of its formula', () => {
  // scipy 1.17.1 stats.shapiro
  test.each([
    [[148, 154, 158, 160, 161, 162, 166, 170, 182, 195, 236], 0.7888146948631716, 0.006703814061898823],
    [[3.1, 4.2, 9.9], 0.86765073805354, 0.288878276372859],
    [[3.1, 4.2, 9.9, 5.5], 0.8958698011632444, 0.41083466660651985],
    [[3.1, 4.2, 9.9, 5.5, 6.1], 0.9235907915842936, 0.5533639096704905],
    [[3.1, 4.2, 9.9, 5.5, 6.1, 7.7], 0.9757857822992964, 0.9287957733978497],
    [[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 40], 0.6519434674376152, 0.00019103491397369382],
    [Array.from({ length: 59 }, (_, i) => Math.sqrt(i + 1)), 0.9478114499910232, 0.013334618161264461],
  ])('of %j', (values, w, p) => {
    const got = shapiroWilk(values)!
    expect(relativeError(got.statistic, w)).toBeLessThan(1e-6)
    expect(relativeError(got.p, p)).toBeLessThan(1e-5)
  })
})

test('Anderson–Darling of the 195 calibration factors of e-Handbook 1.4.2.8', () => {
  const { examples } = reference<{
    examples: { id: string; data: number[]; recomputed: { anderson_darling_A2: number } }[]
  }>('nist_handbook_examples.json')
  const { data, recomputed } = examples.find(e => e.id === 'confidence_mean_zarr13')!
  expect(andersonDarling(data)!.statistic).toBeCloseTo(recomputed.anderson_darling_A2, 10)
})

test('shift, scale and order change neither test', () => {
  const values = [8.2, 9.1, 9.7, 10.4, 10.6, 11.9, 12.3, 12.4, 14.8, 19.5]
  const changed = values.map(v => 1e6 - 3 * v).reverse()
  for (const check of [shapiroWilk, andersonDarling]) {
    expect(relativeError(check(changed)!.statistic, check(values)!.statistic)).toBeLessThan(1e-7)
  }
})

test('under normality p is under 0.05 in about 5 of 100 groups', () => {
  const random = seededRandom(11)
  const runs = 4000
  let shapiro = 0
  let anderson = 0
  for (let run = 0; run < runs; run++) {
    const values = Array.from({ length: 10 }, random.normal)
    if (shapiroWilk(values)!.p < 0.05) shapiro++
    if (andersonDarling(values)!.p < 0.05) anderson++
  }
  // Four standard errors of a share of 0.05: 0.0138.
  expect(Math.abs(shapiro / runs - 0.05)).toBeLessThan(0.0138)
  expect(Math.abs(anderson / runs - 0.05)).toBeLessThan(0.0138)
})

test('too few, too many or equal values have no test', () => {
  expect(shapiroWilk([1, 2])).toBeNull()
  expect(shapiroWilk([2, 2, 2, 2])).toBeNull()
  expect(shapiroWilk(Array.from({ length: 5001 }, (_, i) => i))).toBeNull()
  expect(andersonDarling([1, 2, 3, 4, 5, 6, 7])).toBeNull()
  expect(andersonDarling(Array<number>(9).fill(2))).toBeNull()
})

test('a value beyond all measure gives a tiny p, not NaN', () => {
  const values = [...Array.from({ length: 60 }, (_, i) => i / 60), 1e9]
  expect(andersonDarling(values)!.p).toBeLessThan(1e-20)
  expect(shapiroWilk(values)!.p).toBeLessThan(1e-10)
})

// Share of 300,000 normal samples whose statistic is greater: NumPy, default_rng(1), of 12 and 20 values. The fitted curve lies within 0.035 of it.
test.each([
  [12, 1, 0.9663],
  [12, 1.3, 0.89],
  [12, 1.8, 0.5174],
  [20, 1.3, 0.5982],
  [20, 1.8, 0.1705],
])('Anderson–Darling in each part of its curve: 1 to %i to the power of %f', (n, power, p) => {
  const values = Array.from({ length: n }, (_, i) => (i + 1) ** power)
  expect(Math.abs(andersonDarling(values)!.p - p)).toBeLessThan(0.035)
})
