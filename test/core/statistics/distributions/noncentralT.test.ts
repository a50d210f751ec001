import { expect, test } from 'vitest'
import {
  noncentralTCdf,
  noncentralTQuantile,
  noncentralTUpperTail,
} from '../../../../src/core/statistics/distributions/noncentralT.ts'
import { tCdf } from '../../../../src/core/statistics/distributions/t.ts'
import { reference, relativeError } from '../../../reference/reference.ts'

// mpmath 1.3.0, 30 digits; see the file. Under 1e-20 its own quadrature runs out of digits.
const { noncentral_t: rows } = reference<{ noncentral_t: [number, number, number, number, number][] }>(
  'distribution_values.json',
)

test('both tails agree to 12 digits with high-precision integration', () => {
  for (const [df, noncentrality, t, lower, upper] of rows) {
    const where = `df ${df}, noncentrality ${noncentrality}, t ${t}`
    if (lower > 1e-20) {
      expect(relativeError(noncentralTCdf(t, df, noncentrality), lower), where).toBeLessThan(1e-12)
    }
    if (upper > 1e-20) {
      expect(relativeError(noncentralTUpperTail(t, df, noncentrality), upper), where).toBeLessThan(1e-12)
    }
  }
})

test('without noncentrality it is Student t', () => {
  for (const df of [1, 2, 4.5, 30, 1000]) {
    for (const t of [-8, -1, 0, 0.3, 2]) {
      expect(relativeError(noncentralTCdf(t, df, 0), tCdf(t, df))).toBeLessThan(1e-12)
    }
  }
})

test('the quantile undoes the distribution', () => {
  for (const df of [1, 2, 9, 29, 400]) {
    for (const noncentrality of [-2, 0, 4, 16]) {
      for (const p of [0.001, 0.05, 0.5, 0.95, 0.999]) {
        const t = noncentralTQuantile(p, df, noncentrality)
        expect(relativeError(noncentralTCdf(t, df, noncentrality), p)).toBeLessThan(1e-12)
      }
    }
  }
})

test('e-Handbook 7.2.6.3: t(0.99; 42, 8.4037) is 12.28834', () => {
  expect(noncentralTQuantile(0.99, 42, 8.4037)).toBeCloseTo(12.28834, 3)
})
