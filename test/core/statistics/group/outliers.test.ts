import { describe, expect, test } from 'vitest'
import {
  dixon,
  dixonCritical,
  dixonRatioFor,
  dixonStatistic,
  dixonUpperTail,
} from '../../../../src/core/statistics/group/dixon.ts'
import { esdSteps, generalizedEsd } from '../../../../src/core/statistics/group/generalizedEsd.ts'
import { farthest, grubbs, grubbsCritical } from '../../../../src/core/statistics/group/grubbs.ts'
import { suspects } from '../../../../src/core/statistics/group/outliers.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'
import { reference, relativeError } from '../../../reference/reference.ts'

const { examples } = reference<{
  examples: { id: string; data: number[]; recomputed: { R: number[]; lambda_5_percent: number[] } }[]
}>('nist_handbook_examples.json')
const example = (id: string) => examples.find(e => e.id === id)!

describe('Grubbs', () => {
  const { data } = example('grubbs_tietjen_moore')
  test('e-Handbook 1.3.5.17.1: uranium readings, G = 2.4687', () => {
    const suspect = grubbs(data)!
    expect(suspect.value).toBe(245.57)
    expect(suspect.statistic).toBeCloseTo(2.46876461121, 10)
    // recomputed, both sides: 2.12665; the page prints 2.032 for one side, which takes α twice as large
    expect(suspect.critical).toBeCloseTo(2.1266450872, 9)
    expect(grubbsCritical(8, 0.1)).toBeCloseTo(2.032, 3)
  })
  test('critical values of Grubbs and Beck (1972), n = 3 to 100', () => {
    const { grubbs: table } = reference<{ grubbs: { n: number[]; 'one_sided_0.05': number[] } }>(
      'quantile_tables.json',
    )
    table.n.forEach((n, i) => {
      expect(relativeError(grubbsCritical(n, 0.1), table['one_sided_0.05'][i]!)).toBeLessThan(1e-10)
    })
  })
  test('no scatter or too few values, no test', () => {
    expect(farthest([1, 2])).toBeNull()
    expect(grubbs([3, 3, 3, 3])).toBeNull()
  })
})

describe('generalized ESD', () => {
  test('e-Handbook 1.3.5.17.3: Rosner’s 54 values have three outliers', () => {
    const { data, recomputed } = example('generalized_esd_rosner')
    const steps = esdSteps(data, 10)
    steps.forEach((step, i) => {
      expect(step.statistic).toBeCloseTo(recomputed.R[i]!, 10)
      expect(step.critical).toBeCloseTo(recomputed.lambda_5_percent[i]!, 10)
    })
    expect(generalizedEsd(data, 10).map(s => s.value)).toEqual([6.01, 5.42, 5.34])
  })
  test('two that hide each other are both found', () => {
    const values = [...Array.from({ length: 20 }, (_, i) => 10 + (i % 7) / 10), 14, 14.1]
    expect(grubbs(values)).not.toBeNull()
    expect(generalizedEsd(values, 2).map(s => s.value)).toEqual([14.1, 14])
  })
})

describe('Dixon', () => {
  // Dixon (1951, Ann. Math. Stat. 22:68) at 5 % for one end; r10 at 5 % for both ends Rorabacher (1991). From memory.
  test.each([
    [3, 0.941],
    [4, 0.765],
    [5, 0.642],
    [7, 0.507],
    [8, 0.554],
    [9, 0.512],
    [10, 0.477],
    [11, 0.576],
    [12, 0.546],
    [13, 0.521],
    [14, 0.546],
    [15, 0.525],
    [20, 0.45],
    [25, 0.406],
  ])('of %i values the ratio exceeds %f in 5 of 100 groups', (n, printed) => {
    expect(Math.abs(dixonCritical(n, 0.1) - printed)).toBeLessThan(0.0015)
  })
  test.each([
    [3, 0.97],
    [4, 0.829],
    [5, 0.71],
    [6, 0.625],
    [7, 0.568],
  ])('both ends of %i values: %f', (n, printed) => {
    expect(Math.abs(dixonCritical(n) - printed)).toBeLessThan(0.003)
  })
  test('any ratio exceeds 0, for every n', () => {
    for (let n = 3; n <= 30; n++) expect(dixonUpperTail(0, n)).toBeCloseTo(1, 9)
  })
  test('the tail is that of simulated groups', () => {
    const random = seededRandom(21)
    const runs = 20_000
    for (const n of [4, 9, 12, 16]) {
      const { near, far } = dixonRatioFor(n)
      let over = 0
      for (let run = 0; run < runs; run++) {
        const x = Float64Array.from({ length: n }, random.normal).sort()
        if ((x[n - 1]! - x[n - 1 - near]!) / (x[n - 1]! - x[far]!) > 0.4) over++
      }
      const p = dixonUpperTail(0.4, n)
      expect(Math.abs(over / runs - p), `n = ${n}`).toBeLessThan(4 * Math.sqrt((p * (1 - p)) / runs))
    }
  })
  test('names the end that stands apart', () => {
    expect(dixon([10, 10.1, 9.9, 10.05, 15])).toMatchObject({ index: 4, value: 15, test: 'Dixon' })
    expect(dixon([10, 10.1, 2, 10.05, 9.9])).toMatchObject({ index: 2, value: 2 })
    expect(dixonStatistic([1, 2, 4])).toEqual({ index: 2, statistic: 2 / 3 })
  })
  test('two equal values of three are no ground for suspicion', () => {
    expect(dixon([5, 5, 5.1])).toBeNull()
    expect(dixon([5, 5, 5])).toBeNull()
    expect(dixon([5, 6])).toBeNull()
  })
})

describe('suspects of a group', () => {
  test('the test follows the count', () => {
    const base = [10, 10.3, 9.7, 10.1, 9.8, 10.2, 9.9]
    expect(suspects([...base.slice(0, 5), 30])[0]).toMatchObject({ index: 5, test: 'Dixon' })
    expect(suspects([...base, ...base, 30].slice(3))[0]).toMatchObject({ test: 'Grubbs', value: 30 })
    // Each of these two would hide the other from Grubbs's test.
    expect(suspects([...base, ...base, 30, 31]).map(s => s.value)).toEqual([31, 30])
    expect(suspects([...base, ...base])).toEqual([])
  })
  test('of sound groups about 5 in 100 have one', () => {
    const random = seededRandom(31)
    const runs = 3000
    for (const n of [5, 10, 20]) {
      let found = 0
      for (let run = 0; run < runs; run++) {
        if (suspects(Array.from({ length: n }, random.normal)).length > 0) found++
      }
      expect(Math.abs(found / runs - 0.05), `n = ${n}`).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / runs))
    }
  })
  test('too few values, no suspicion', () => {
    expect(suspects([])).toEqual([])
    expect(suspects([1, 100])).toEqual([])
  })
})
