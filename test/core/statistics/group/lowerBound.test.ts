import { describe, expect, test } from 'vitest'
import {
  leastForOrderBound,
  normalBoundFactor,
  normalLowerBound,
  orderLowerBound,
} from '../../../../src/core/statistics/group/lowerBound.ts'
import { column, reference, referenceText, relativeError } from '../../../reference/reference.ts'

const rows = referenceText('tolerance_factors.csv')
  .trim()
  .split('\n')
  .slice(1)
  .map(line => line.split(',').map(Number) as [number, number, number, number, number])

describe('one-sided normal tolerance factors, n = 2 to 50 and beyond', () => {
  test.each(rows)('n = %i', (n, printed90, computed90, printed99, computed99) => {
    const k90 = normalBoundFactor(n, 0.9)
    const k99 = normalBoundFactor(n, 0.99)
    // SciPy 1.17.1 stats.nct.ppf(.95, n−1, z√n)/√n, to the eight decimals stored
    expect(Math.abs(k90 - computed90)).toBeLessThan(6e-9)
    expect(Math.abs(k99 - computed99)).toBeLessThan(6e-9)
    // CMH-17-1G as printed: 90/95 runs up to 0.002 high at small n
    expect(Math.abs(k90 - printed90)).toBeLessThan(0.002)
    expect(Math.abs(k99 - printed99)).toBeLessThan(0.001)
  })
  test('e-Handbook 7.2.6.3: k of 43 values, 90 % with 99 % confidence, is 1.8740', () => {
    expect(normalBoundFactor(43, 0.9, 0.99)).toBeCloseTo(1.874, 3)
    expect(normalBoundFactor(6, 0.9, 0.99)).toBeCloseTo(4.4111, 4)
  })
})

const { results } = reference<{
  results: { id: string; value: { B_normal: number; A_normal: number } }[]
}>('dataset_reference_results.json')

test.each([
  ['glass', column('datasets/glass_fibre_1_5cm.csv', 'strength')],
  ['carb', column('datasets/carbon_fibre_10mm.csv', 'strength_GPa')],
  ['fat', column('datasets/nist_fatigue_life_aluminium.csv', 'kilocycles')],
  ['ceramic_batch_2', column('datasets/nist_ceramic_strength.csv', 'strength', row => row.batch === '2')],
])('bounds of the data set %s agree with R to 11 digits', (id, values) => {
  const { B_normal, A_normal } = results.find(r => r.id === `basis_${id}`)!.value
  expect(relativeError(normalLowerBound(values, 0.9)!, B_normal)).toBeLessThan(1e-11)
  expect(relativeError(normalLowerBound(values, 0.99)!, A_normal)).toBeLessThan(1e-11)
})

test('no bound from one value or from equal ones', () => {
  expect(normalLowerBound([3], 0.9)).toBeNull()
  expect(normalLowerBound([3, 3, 3], 0.9)).toBeNull()
})

describe('bound by rank', () => {
  const upTo = (n: number): number[] => Array.from({ length: n }, (_, i) => n - i)
  test('asks for 29 values for 90 % and 299 for 99 %', () => {
    // CMH-17-1G, section 8.3: the smallest samples of the distribution-free bounds.
    expect(leastForOrderBound(0.9)).toBe(29)
    expect(leastForOrderBound(0.99)).toBe(299)
    expect(orderLowerBound(upTo(28), 0.9)).toBeNull()
    expect(orderLowerBound(upTo(298), 0.99)).toBeNull()
  })
  // from memory of the CMH-17 tables of ranks, each recomputed here: scipy 1.17.1 stats.binom.ppf(.05, n, 1 − content)
  test.each([
    [29, 0.9, 1],
    [45, 0.9, 1],
    [46, 0.9, 2],
    [61, 0.9, 3],
    [299, 0.99, 1],
    [473, 0.99, 2],
  ])('of %i values for %f it is the one of rank %i', (n, content, rank) => {
    expect(orderLowerBound(upTo(n), content)).toBe(rank)
  })
})
