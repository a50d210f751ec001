import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { leastSquares } from '../../../src/core/calibration/leastSquares.ts'
import { fitPolynomial, polynomialAt, slopeAt } from '../../../src/core/calibration/polynomial.ts'

interface Certified {
  readonly name: string
  readonly columns?: number[][]
  readonly x: number[]
  readonly y: number[]
  readonly degree: number
  readonly throughZero: boolean
  readonly certified: { coefficients: string[]; sd: string[]; residualSd: string }
}

/** NIST StRD linear least squares, sources in the file; itl.nist.gov/div898/strd/lls/lls.shtml. */
const { sets } = JSON.parse(readFileSync(new URL('./data/nist-linear.json', import.meta.url), 'utf8')) as {
  sets: Certified[]
}

/** Digits that agree: −log10 of the relative difference (absolute where the certified value is 0), 15 at most. */
const digits = (found: number, certified: string): number => {
  const truth = Number(certified)
  if (found === truth) return 15
  return Math.min(15, -Math.log10(Math.abs(found - truth) / (truth === 0 ? 1 : Math.abs(truth))))
}

/** Least digits reached: coefficients, their standard errors, residual sd. Measured, less half a digit for other processors. */
const reached: Record<string, readonly [number, number, number]> = {
  Norris: [12.8, 13.3, 13.4],
  Pontius: [12.4, 13.1, 13.1],
  NoInt1: [14.2, 14.4, 14.5],
  NoInt2: [14.5, 14.5, 14.5],
  Wampler1: [10, 9.4, 9.4],
  Wampler2: [12.5, 14.2, 14.2],
  Wampler3: [9.4, 13.4, 13.5],
  Wampler4: [8.7, 13.9, 14.3],
  Wampler5: [6.6, 13.9, 14.3],
  Filip: [12, 12, 13],
  Longley: [12, 12, 13.5],
}

describe('certified values of the NIST linear-regression sets', () => {
  for (const set of sets) {
    test(set.name, () => {
      const fit = set.columns
        ? leastSquares(set.columns, set.y)
        : fitPolynomial(set.x, set.y, { degree: set.degree, throughZero: set.throughZero })
      const skip = set.throughZero ? 1 : 0
      const [coefficients, errors, residualSd] = reached[set.name]!
      set.certified.coefficients.forEach((truth, i) => {
        expect(digits(fit!.coefficients[i + skip]!, truth)).toBeGreaterThan(coefficients)
        expect(digits(fit!.standardErrors[i + skip]!, set.certified.sd[i]!)).toBeGreaterThan(errors)
      })
      expect(digits(fit!.residualSd!, set.certified.residualSd)).toBeGreaterThan(residualSd)
    })
  }
})

describe('what cannot be fitted', () => {
  test('fewer points than coefficients', () =>
    expect(fitPolynomial([1, 2], [1, 2], { degree: 2 })).toBeNull())
  test('one place only', () => expect(fitPolynomial([3, 3, 3], [1, 2, 3], { degree: 1 })).toBeNull())
  test('two places cannot bear a curve', () =>
    expect(fitPolynomial([1, 1, 2, 2], [1, 2, 3, 4], { degree: 2 })).toBeNull())
  test('columns that depend on one another', () =>
    expect(
      leastSquares(
        [
          [1, 2, 3],
          [2, 4, 6],
        ],
        [1, 2, 4],
      ),
    ).toBeNull())
  test('no degrees of freedom: no residual sd', () => {
    const fit = fitPolynomial([1, 2], [1, 3], { degree: 1 })!
    expect(fit.residualSd).toBeNull()
    expect(fit.df).toBe(0)
  })
})

test('value and slope of a polynomial', () => {
  expect(polynomialAt([1, 2, 3], 2)).toBe(17)
  expect(slopeAt([1, 2, 3], 2)).toBe(14)
})

const points = fc.uniqueArray(fc.integer({ min: -8_000_000, max: 8_000_000 }), {
  minLength: 4,
  maxLength: 20,
})
const seeded = { seed: 4, numRuns: 200 }

test('a perfect line gives zero residuals', () => {
  fc.assert(
    fc.property(points, fc.double({ min: -10, max: 10, noNaN: true }), (x, slope) => {
      const fit = fitPolynomial(
        x,
        x.map(v => 3 + slope * v),
        { degree: 1 },
      )!
      const size = 3 + Math.abs(slope) * 8e6
      for (const r of fit.residuals) expect(Math.abs(r)).toBeLessThan(1e-14 * size)
    }),
    seeded,
  )
})

test('the order of points does not matter, and scaling the response scales the fit', () => {
  fc.assert(
    fc.property(points, fc.integer({ min: 1, max: 9 }), (x, seed) => {
      const y = x.map((v, i) => v / 1000 + Math.sin(seed + i))
      const fit = fitPolynomial(x, y, { degree: 1 })!
      const turned = fitPolynomial([...x].reverse(), y.map(v => 1000 * v).reverse(), { degree: 1 })!
      turned.coefficients.forEach((c, i) => {
        expect(c / 1000).toBeCloseTo(fit.coefficients[i]!, 9)
      })
      expect(turned.residualSd! / 1000).toBeCloseTo(fit.residualSd!, 9)
    }),
    seeded,
  )
})

test('weights: a point counted twice is a point of weight two', () => {
  const once = fitPolynomial([1, 2, 3, 4], [1, 2.1, 2.9, 4.2], { degree: 1, weights: [1, 2, 1, 1] })!
  const twice = fitPolynomial([1, 2, 2, 3, 4], [1, 2.1, 2.1, 2.9, 4.2], { degree: 1 })!
  once.coefficients.forEach((c, i) => {
    expect(c).toBeCloseTo(twice.coefficients[i]!, 13)
  })
})

test('leverages add up to the number of coefficients', () => {
  const fit = fitPolynomial([1, 2, 3, 5, 8], [1, 2, 3, 4, 7], { degree: 2 })!
  expect(fit.leverages.reduce((a, b) => a + b, 0)).toBeCloseTo(3, 13)
})
