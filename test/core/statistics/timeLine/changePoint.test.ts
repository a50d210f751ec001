import { expect, test } from 'vitest'
import { seededRandom } from '../../../../src/core/statistics/random.ts'
import { CHANGE_LIMITS } from '../../../../src/core/statistics/timeLine/changeLimits.ts'
import { changesIn, greatestSplit, limitFor } from '../../../../src/core/statistics/timeLine/changePoint.ts'

test('the split that differs most, by the t of its two sides', () => {
  // Two sides 1, 2, 3 and 7, 8, 9: pooled variance 1, t = 6/√(2/3) = 7.348.
  const { t, at } = greatestSplit([1, 2, 3, 7, 8, 9])
  expect(at).toBe(3)
  expect(t).toBeCloseTo(6 / Math.sqrt(2 / 3), 12)
})

test('it is the greatest t of all splits, each counted by itself', () => {
  const r = seededRandom(3)
  for (let run = 0; run < 50; run++) {
    const values = Array.from({ length: 4 + (run % 12) }, () => r.normal())
    const each = values.slice(1).map((_, i) => studentsT(values.slice(0, i + 1), values.slice(i + 1)))
    expect(greatestSplit(values).t).toBeCloseTo(Math.max(...each), 9)
  }
})

function studentsT(a: readonly number[], b: readonly number[]): number {
  const middle = (v: readonly number[]) => v.reduce((x, y) => x + y, 0) / v.length
  const [ma, mb] = [middle(a), middle(b)]
  const squares = [...a.map(v => v - ma), ...b.map(v => v - mb)].reduce((sum, d) => sum + d * d, 0)
  return Math.abs(ma - mb) / Math.sqrt((squares / (a.length + b.length - 2)) * (1 / a.length + 1 / b.length))
}

test('values that are all alike tell nothing, and a jump without scatter is told', () => {
  expect(changesIn(Array.from({ length: 20 }, () => 5))).toEqual([])
  expect(changesIn([5, 5, 5, 5, 5, 6, 6, 6]).map(({ at }) => at)).toEqual([5])
  // A display that steps by one shows no such jump.
  expect(changesIn([5, 5, 5, 5, 5, 6, 6, 6], 1)).toEqual([])
})

test('a healthy series is told of on one value in 400, and not by far less', () => {
  const r = seededRandom(11)
  let [told, values] = [0, 0]
  for (let series = 0; series < 1_500; series++) {
    const all = Array.from({ length: 40 }, () => r.normal())
    const first = changesIn(all)[0]?.toldAt
    if (first !== undefined) told++
    values += (first ?? 39) - (CHANGE_LIMITS[0]![0] - 1) + 1
  }
  expect(told / values).toBeGreaterThan(0.0018)
  expect(told / values).toBeLessThan(0.0033)
})

test('the limits fall with the number of values, and stand still beyond the last', () => {
  for (const [i, [, limit]] of CHANGE_LIMITS.entries())
    if (i > 0) expect(limit).toBeLessThanOrEqual(CHANGE_LIMITS[i - 1]![1] + 0.02)
  const [last, limit] = CHANGE_LIMITS.at(-1)!
  expect(limitFor(5 * last)).toBe(limit)
})

test('two jumps are found where they are, one after the other', () => {
  const r = seededRandom(5)
  const values = Array.from({ length: 45 }, (_, i) => (i < 15 ? 0 : i < 30 ? 6 : 1) + r.normal())
  expect(changesIn(values).map(({ at }) => at)).toEqual([15, 30])
})
