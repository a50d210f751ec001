import { expect, test } from 'vitest'
import { gaussLegendre } from '../../../../src/core/statistics/distributions/quadrature.ts'
import { findRoot } from '../../../../src/core/statistics/distributions/root.ts'

test('Gauss–Legendre with n points is exact to degree 2n − 1', () => {
  for (const count of [1, 2, 5, 44]) {
    const { nodes, weights } = gaussLegendre(count)
    const degree = 2 * count - 1
    // ∫ x^d from 0 to 2 = 2^(d+1)/(d+1); the rule's own interval is −1 to 1
    const exact = 2 ** (degree + 1) / (degree + 1)
    const sum = nodes.reduce((all, x, i) => all + weights[i]! * (1 + x) ** degree, 0)
    expect(sum / exact).toBeCloseTo(1, 12)
  }
})

test('five points have the nodes of Abramowitz and Stegun, table 25.4', () => {
  const { nodes, weights } = gaussLegendre(5)
  expect(nodes[0]).toBeCloseTo(0.906179845939, 12)
  expect(nodes[1]).toBeCloseTo(0.538469310106, 12)
  expect(nodes[2]).toBeCloseTo(0, 15)
  expect(nodes[4]).toBeCloseTo(-0.906179845939, 12)
  expect(weights[2]).toBeCloseTo(0.568888888889, 12)
})

test.each([
  ['a straight line', (x: number) => 3 * x - 1, 0, 5, 1 / 3],
  ['a flat triple root', (x: number) => (x - 2) ** 3, -1, 7, 2],
  ['a steep exponential', (x: number) => Math.exp(x) - 1e20, 0, 100, Math.log(1e20)],
  ['a root at an end', (x: number) => x - 4, 4, 9, 4],
])('finds %s', (_, f, low, high, root) => {
  expect(findRoot(f, low, high)).toBeCloseTo(root, 4)
})

test('an unbracketed root is a mistake of the programmer', () => {
  expect(() => findRoot(x => x * x + 1, -1, 1)).toThrow(/no change of sign/)
})
