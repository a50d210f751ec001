import { describe, expect, test } from 'vitest'
import { betaCdf, betaUpperTail } from '../../../../src/core/statistics/distributions/beta.ts'
import {
  chiSquareCdf,
  chiSquareQuantile,
  chiSquareUpperTail,
} from '../../../../src/core/statistics/distributions/chiSquare.ts'
import { fCdf, fQuantile, fUpperTail } from '../../../../src/core/statistics/distributions/f.ts'
import {
  gammaCdf,
  gammaQuantile,
  gammaUpperTail,
} from '../../../../src/core/statistics/distributions/gamma.ts'
import {
  normalCdf,
  normalQuantile,
  normalUpperTail,
} from '../../../../src/core/statistics/distributions/normal.ts'
import { tCdf, tQuantile, tTwoSided, tUpperTail } from '../../../../src/core/statistics/distributions/t.ts'
import {
  weibullCdf,
  weibullQuantile,
  weibullUpperTail,
} from '../../../../src/core/statistics/distributions/weibull.ts'
import { reference, relativeError } from '../../../reference/reference.ts'

// SciPy 1.17.1 and mpmath 1.3.0; the calls stand in the file.
const values = reference<Record<string, number[][]>>('distribution_values.json')
const functions: Record<string, (...args: number[]) => number> = {
  t_quantile: tQuantile,
  t_two_sided: tTwoSided,
  f_quantile: fQuantile,
  f_upper: fUpperTail,
  chi_square_quantile: chiSquareQuantile,
  chi_square_upper: chiSquareUpperTail,
  normal_upper: normalUpperTail,
}
for (const [name, f] of Object.entries(functions)) {
  test(`${name} agrees to 13 digits, far tails included`, () => {
    for (const row of values[name]!) {
      expect(relativeError(f(...row.slice(0, -1)), row.at(-1)!), row.join(' ')).toBeLessThan(5e-14)
    }
  })
}

// Recomputed e-Handbook 1.3.6.7 tables, 12 digits.
interface Table {
  p: number[]
  rows: Record<string, number[]>
}
const tables = reference<{
  normal: Record<string, number>
  student_t: Table
  chi_square: Table
  F: { numerator_dof: number[] } & Record<'0.95' | '0.99', Record<string, number[]>>
}>('quantile_tables.json')

describe('printed quantile tables', () => {
  test('normal', () => {
    for (const [p, z] of Object.entries(tables.normal)) {
      expect(relativeError(normalQuantile(Number(p)), z)).toBeLessThan(1e-11)
    }
  })
  test.each([
    ['student_t', tQuantile],
    ['chi_square', chiSquareQuantile],
  ] as const)('%s', (name, quantile) => {
    const { p, rows } = tables[name]
    for (const [df, row] of Object.entries(rows)) {
      row.forEach((x, i) => {
        expect(relativeError(quantile(p[i]!, Number(df)), x)).toBeLessThan(1e-11)
      })
    }
  })
  test('F', () => {
    for (const p of ['0.95', '0.99'] as const) {
      for (const [df2, row] of Object.entries(tables.F[p])) {
        row.forEach((f, i) => {
          const got = fQuantile(Number(p), tables.F.numerator_dof[i]!, Number(df2))
          expect(relativeError(got, f)).toBeLessThan(1e-11)
        })
      }
    }
  })
})

describe('tails', () => {
  test('both tails add to one', () => {
    for (const x of [0.01, 0.4, 1, 3, 20]) {
      expect(tCdf(x, 4) + tUpperTail(x, 4)).toBeCloseTo(1, 14)
      expect(fCdf(x, 3, 7) + fUpperTail(x, 3, 7)).toBeCloseTo(1, 14)
      expect(chiSquareCdf(x, 3) + chiSquareUpperTail(x, 3)).toBeCloseTo(1, 14)
      expect(weibullCdf(x, 5, 2) + weibullUpperTail(x, 5, 2)).toBeCloseTo(1, 14)
      expect(normalCdf(x) + normalUpperTail(x)).toBeCloseTo(1, 14)
      expect(betaCdf(x / 20, 2, 5) + betaUpperTail(x / 20, 2, 5)).toBeCloseTo(1, 14)
    }
  })
  test('the ends of the range are probabilities, not NaN', () => {
    expect([tTwoSided(0, 3), tTwoSided(Infinity, 3), tCdf(-Infinity, 3)]).toEqual([1, 0, 0])
    expect([fUpperTail(0, 2, 3), fUpperTail(Infinity, 2, 3), fCdf(-1, 2, 3)]).toEqual([1, 0, 0])
    expect([chiSquareUpperTail(0, 2), chiSquareUpperTail(Infinity, 2)]).toEqual([1, 0])
    expect([normalQuantile(0), normalQuantile(1)]).toEqual([-Infinity, Infinity])
    expect([tQuantile(0, 5), tQuantile(0.5, 5), tQuantile(1, 5)]).toEqual([-Infinity, 0, Infinity])
    expect([weibullCdf(-1, 2, 3), weibullUpperTail(-1, 2, 3)]).toEqual([0, 1])
  })
  test('t with infinite degrees of freedom is the normal', () => {
    expect(tQuantile(0.975, Infinity)).toBe(normalQuantile(0.975))
    expect(tTwoSided(2, Infinity)).toBe(2 * normalUpperTail(2))
  })
  test('Weibull quantiles of tiny probabilities keep their digits', () => {
    // x = scale · p^(1/shape) to first order: from the definition.
    expect(relativeError(weibullQuantile(1e-18, 3, 2), 2 * 1e-6)).toBeLessThan(1e-12)
    expect(weibullQuantile(1 - Math.exp(-1), 7, 42)).toBeCloseTo(42, 12)
  })
})

test('the gamma distribution at its ends', () => {
  expect([gammaCdf(0, 2), gammaCdf(-1, 2), gammaCdf(Infinity, 2)]).toEqual([0, 0, 1])
  expect([gammaUpperTail(0, 2), gammaUpperTail(-1, 2), gammaUpperTail(Infinity, 2)]).toEqual([1, 1, 0])
  expect([gammaQuantile(0, 2), gammaQuantile(1, 2)]).toEqual([0, Infinity])
  // P(X ≤ x) = 1 − (1 + x) e^−x for a shape of 2.
  expect(gammaCdf(0.5, 2)).toBeCloseTo(1 - 1.5 * Math.exp(-0.5), 12)
  expect(gammaUpperTail(0.5, 2)).toBeCloseTo(1.5 * Math.exp(-0.5), 12)
})
