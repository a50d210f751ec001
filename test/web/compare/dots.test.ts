import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Comparison } from '../../../src/core/statistics/document.ts'
import { modesOf } from '../../../src/publish/figure/modes.ts'
import { levelsOf, rangeOf } from '../../../src/web/compare/dots.ts'

const comparison = (
  specimens: readonly (readonly [number | null, number | null, number | null])[],
  groups: readonly Partial<Record<'ci95' | 'ci95WithDoubt', readonly [number, number]>>[] = [],
) =>
  ({
    specimens: specimens.map(([value, low, high]) => ({ value, low, high })),
    groups: groups.map(group => ({ ci95: null, ci95WithDoubt: null, ...group })),
  }) as unknown as Comparison

test('the range holds every value, doubt and interval, in the unit shown', () => {
  const range = rangeOf(comparison([[20, 10, 40]], [{ ci95: [5, 60] }]), 10)
  expect(range?.[0]).toBeLessThan(0.5)
  expect(range?.[1]).toBeGreaterThan(6)
  // The interval with the doubt of the figures counts, not the one without.
  expect(rangeOf(comparison([], [{ ci95: [0, 100], ci95WithDoubt: [40, 60] }]), 1)?.[0]).toBeGreaterThan(30)
})

test('nothing has no range, and a single figure has one with room on both sides', () => {
  expect(rangeOf(comparison([[null, null, null]]), 1)).toBeNull()
  expect(rangeOf(comparison([[50, null, null]]), 1)).toEqual([45, 55])
  expect(rangeOf(comparison([[-2, null, null]]), 1)).toEqual([-2.2, -1.8])
})

test('what cannot be below nothing is drawn from 0', () => {
  const forces = { ...comparison([[7, -3, 17]], [{ ci95: [-5, 12] }]), quantity: 'peakForce' } as Comparison
  expect(rangeOf(forces, 1)?.[0]).toBe(0)
})

test('no dot lies on another, and none is higher than it must be', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0, max: 300, noNaN: true }), { maxLength: 40 }),
      fc.integer({ min: 1, max: 30 }),
      (xs, apart) => {
        const levels = levelsOf(xs, apart)
        expect(levels).toHaveLength(xs.length)
        xs.forEach((x, i) => {
          xs.forEach((other, j) => {
            if (i !== j && levels[i] === levels[j]) expect(Math.abs(x - other)).toBeGreaterThanOrEqual(apart)
          })
        })
        // As many levels as dots ever crowd into one width.
        const crowd = Math.max(0, ...xs.map(x => xs.filter(y => y > x - apart && y <= x).length))
        expect(Math.max(-1, ...levels) + 1).toBeLessThanOrEqual(crowd)
      },
    ),
  )
})

test('each way of failing is listed once, in the order in which it is met', () => {
  const specimens = ['tore', null, 'peeled', 'tore'].map(mode => ({ mode }))
  expect(modesOf({ specimens } as unknown as Comparison)).toEqual(['tore', null, 'peeled'])
})
