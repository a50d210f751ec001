import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { midranks, rankSumTails } from '../../../../src/core/statistics/distributions/rankSums.ts'
import { reference } from '../../../reference/reference.ts'

type Level = 'two_sided_0.05' | 'two_sided_0.01'
const published = reference<{
  mann_whitney_critical_U: { table: Record<string, Record<string, Record<Level, number | null>>> }
  mann_whitney_smallest_two_sided_p: { values: Record<string, number> }
}>('nonparametric_and_normality.json')

const upTo = (n: number): number[] => Array.from({ length: n }, (_, i) => i + 1)

/** Largest value whose two-sided p still reaches the level, or null. */
function critical(level: number, lower: (value: number) => number): number | null {
  let found: number | null = null
  for (let value = 0; 2 * lower(value) <= level + 1e-12; value++) found = value
  return found
}

describe('tables of critical values', () => {
  test('Mann and Whitney (1947), up to 10 against 10', () => {
    for (const [m, row] of Object.entries(published.mann_whitney_critical_U.table)) {
      for (const [n, cell] of Object.entries(row)) {
        const size = Number(m)
        const lower = (u: number) =>
          rankSumTails(upTo(size + Number(n)), size, u + (size * (size + 1)) / 2).lower
        expect(critical(0.05, lower), `${m},${n}`).toBe(cell['two_sided_0.05'])
        expect(critical(0.01, lower), `${m},${n}`).toBe(cell['two_sided_0.01'])
      }
    }
  })
  test('smallest p that ranks can reach', () => {
    for (const [sizes, p] of Object.entries(published.mann_whitney_smallest_two_sided_p.values)) {
      const [m = 0, n = 0] = sizes.split(',').map(Number)
      expect(2 * rankSumTails(upTo(m + n), m, (m * (m + 1)) / 2).lower).toBeCloseTo(p, 11)
    }
  })
})

test('equal values share their ranks', () => {
  expect([...midranks([3, 1, 3, 2])]).toEqual([3.5, 1, 3.5, 2])
  expect([...midranks([5, 5, 5])]).toEqual([2, 2, 2])
  expect([...midranks([])]).toEqual([])
})

test('with ties the tails are those of all choices, one by one', () => {
  const values = fc.array(fc.integer({ min: 0, max: 4 }), { minLength: 2, maxLength: 9 })
  fc.assert(
    fc.property(values, fc.nat(), (list, pick) => {
      const size = 1 + (pick % (list.length - 1))
      const ranks = [...midranks(list)]
      const seen = ranks.slice(0, size).reduce((a, b) => a + b, 0)
      const sums = choices(ranks, size)
      const got = rankSumTails(ranks, size, seen)
      expect(got.lower).toBeCloseTo(sums.filter(s => s <= seen).length / sums.length, 12)
      expect(got.upper).toBeCloseTo(sums.filter(s => s >= seen).length / sums.length, 12)
    }),
    { seed: 5, numRuns: 200 },
  )
})

function choices(ranks: readonly number[], size: number): number[] {
  if (size === 0) return [0]
  return ranks.flatMap((rank, i) => choices(ranks.slice(i + 1), size - 1).map(sum => sum + rank))
}
