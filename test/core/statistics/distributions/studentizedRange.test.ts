import { describe, expect, test } from 'vitest'
import { normalUpperTail } from '../../../../src/core/statistics/distributions/normal.ts'
import {
  studentizedRangeCdf,
  studentizedRangeQuantile,
  studentizedRangeUpperTail,
} from '../../../../src/core/statistics/distributions/studentizedRange.ts'
import { tTwoSided } from '../../../../src/core/statistics/distributions/t.ts'
import { reference, relativeError } from '../../../reference/reference.ts'

const { studentized_range: rows } = reference<{
  studentized_range: [number, number | 'inf', number, number][]
}>('distribution_values.json')
interface Quantiles {
  k: number[]
  rows: Record<string, number[]>
}
const tables = reference<{
  'studentized_range_0.95': Quantiles
  'studentized_range_0.99': Quantiles
  studentized_range_cdf_mpmath: { rows: { q: number; k: number; dof: number; cdf: number }[] }
}>('quantile_tables.json')

test('agrees with SciPy to 12 decimals, in both tails', () => {
  for (const [count, given, q, cdf] of rows) {
    const df = given === 'inf' ? Infinity : given
    expect(Math.abs(studentizedRangeCdf(q, count, df) - cdf), `${count} ${df} ${q}`).toBeLessThan(1e-12)
    expect(Math.abs(studentizedRangeUpperTail(q, count, df) + cdf - 1)).toBeLessThan(1e-12)
  }
})

test('agrees with multi-precision integration to the 12 digits given', () => {
  for (const { q, k, dof, cdf } of tables.studentized_range_cdf_mpmath.rows) {
    expect(Math.abs(studentizedRangeCdf(q, k, dof) - cdf)).toBeLessThan(1e-12)
  }
})

describe.each(['0.95', '0.99'] as const)('quantiles for %s', p => {
  test('agree to 10 digits', () => {
    const { k, rows } = tables[`studentized_range_${p}`]
    for (const [df, row] of Object.entries(rows)) {
      row.forEach((q, i) => {
        const got = studentizedRangeQuantile(Number(p), k[i]!, df === 'inf' ? Infinity : Number(df))
        expect(relativeError(got, q), `${k[i]} means, df ${df}`).toBeLessThan(1e-10)
      })
    }
  })
})

test('two means are a t test: q = √2 |t|, far into the tail', () => {
  for (const df of [1, 2.7, 10, 80]) {
    for (const t of [0.1, 2, 6, 40]) {
      const exact = tTwoSided(t, df)
      const bound = exact > 1e-15 ? 1e-12 : 1e-6
      expect(relativeError(studentizedRangeUpperTail(Math.SQRT2 * t, 2, df), exact)).toBeLessThan(bound)
    }
  }
})

test('of two means with known spread the range is a normal difference', () => {
  for (const q of [0.1, 3, 9, 25]) {
    const exact = 2 * normalUpperTail(q / Math.SQRT2)
    const bound = q < 11 ? 1e-12 : 1 // beyond about 1e-15 only the order of magnitude is promised
    expect(relativeError(studentizedRangeUpperTail(q, 2, Infinity), exact)).toBeLessThan(bound)
  }
  expect(studentizedRangeUpperTail(0, 3, 5)).toBe(1)
  expect(studentizedRangeCdf(-1, 3, 5)).toBe(0)
})
