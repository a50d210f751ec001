import { describe, expect, test } from 'vitest'
import { expandShaped, type ShapedPart } from '../../../src/core/doubt/combined.ts'
import { expand } from '../../../src/core/doubt/expanded.ts'
import { monteCarlo } from '../../../src/core/doubt/monteCarlo.ts'

const part = (standard: number, shape: ShapedPart['shape'], df = Infinity): ShapedPart => ({
  standard,
  shape,
  df,
})

test('a single rectangular part: 0.95 of its half-width, k = 0.95 √3 (GUM G.1.3, note)', () => {
  expect(expandShaped([part(1, 'rectangular')]).k).toBeCloseTo(0.95 * Math.sqrt(3), 2)
})

test('normal parts alone, or one scatter alone, are the formula’s to the last digit', () => {
  for (const parts of [[part(1, 'normal'), part(2, 'normal')], [part(1.3, 'normal', 4)]])
    expect(expandShaped(parts)).toEqual(expand(parts))
})

test('two equal rectangles make a triangle: 95 % lie within (1 − √0.05) of its base', () => {
  const base = 2 * Math.sqrt(3)
  expect(expandShaped([part(1, 'rectangular'), part(1, 'rectangular')]).expanded).toBeCloseTo(
    base * (1 - Math.sqrt(0.05)),
    1,
  )
})

describe('agrees with draws to 3 % (JCGM 101), where the formula does not', () => {
  const budgets: readonly (readonly ShapedPart[])[] = [
    [part(1, 'rectangular'), part(0.2, 'normal')],
    [part(1, 'rectangular'), part(0.3, 'normal', 5)],
    [part(1, 'rectangular'), part(1, 'normal', 3), part(0.5, 'triangular')],
    [part(1, 'normal'), part(1, 'normal', 4)],
    [part(2, 'triangular'), part(0.4, 'normal', 8)],
  ]
  test.each(budgets.map((parts, i) => ({ i, parts })))('budget $i', ({ parts }) => {
    const drawn = monteCarlo(
      values => values.reduce((sum, v) => sum + v, 0),
      parts.map((p, i) => ({
        name: `${i}`,
        value: 0,
        standard: p.standard,
        df: p.df,
        shape: p.shape,
        shared: 'none',
      })),
      { trials: 60_000, seed: 5 },
    )
    const { expanded } = expandShaped(parts)
    expect(Math.abs(expanded / ((drawn.high - drawn.low) / 2) - 1)).toBeLessThan(0.03)
  })
  test('the formula alone is a sixth off for one large rectangle', () => {
    const parts = budgets[0]!
    expect(expand(parts).expanded / expandShaped(parts).expanded).toBeGreaterThan(1.12)
  })
})

// Figures of a quadrature over t itself at every point of the grid (401 of them), to the digits that it gave.
test.each([
  [[part(1, 'rectangular'), part(0.1, 'normal'), part(0.1, 'normal', 2)], 1.726_171_557],
  [[part(1, 'rectangular'), part(1, 'normal'), part(1, 'normal', 3.5)], 3.965_080_814],
  [[part(1, 'rectangular'), part(0.1, 'normal'), part(5, 'normal', 7)], 11.973_395_236],
])('the table of t changes no figure beyond 1e-6 (%#)', (parts, expanded) => {
  expect(Math.abs(expandShaped(parts).expanded / expanded - 1)).toBeLessThan(1e-6)
})
