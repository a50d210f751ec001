import { describe, expect, test } from 'vitest'
import { seededRandom, shuffled } from '../../../src/core/statistics/random.ts'

const take = <T>(count: number, next: () => T): T[] => Array.from({ length: count }, next)

describe('seeded random numbers', () => {
  test('one seed is one stream, two seeds are two', () => {
    expect(take(5, seededRandom(7).uniform)).toEqual(take(5, seededRandom(7).uniform))
    expect(take(5, seededRandom(7).uniform)).not.toEqual(take(5, seededRandom(8).uniform))
    expect(take(5, seededRandom(1).uniform)).not.toEqual(take(5, seededRandom(2 ** 32 + 1).uniform))
  })
  test('a seed must be a whole number', () => {
    for (const seed of [-1, 1.5, Number.NaN, 2 ** 60])
      expect(() => seededRandom(seed)).toThrow(/whole number/)
  })
  test('uniform fills [0, 1) evenly', () => {
    const values = take(200_000, seededRandom(3).uniform)
    expect(values.every(v => v >= 0 && v < 1)).toBe(true)
    const cells = new Float64Array(20)
    for (const v of values) {
      cells[Math.floor(v * 20)]! += 1
    }
    const chiSquare = cells.reduce((sum, c) => sum + (c - 10_000) ** 2 / 10_000, 0)
    expect(chiSquare).toBeLessThan(43.8) // chi-square, 19 degrees of freedom, p = 0.001
  })
  test('below is fair and stays below', () => {
    const { below } = seededRandom(4)
    const cells = new Float64Array(7)
    for (let i = 0; i < 70_000; i++) cells[below(7)]! += 1
    const chiSquare = cells.reduce((sum, c) => sum + (c - 10_000) ** 2 / 10_000, 0)
    expect(chiSquare).toBeLessThan(22.5) // 6 degrees of freedom, p = 0.001
    expect(below(1)).toBe(0)
  })
  test('normal deviates have the moments of the normal', () => {
    const values = take(200_000, seededRandom(5).normal)
    const moment = (k: number) => values.reduce((sum, v) => sum + v ** k, 0) / values.length
    // Four standard errors of each moment: √(Var(Z^k)/n).
    expect(Math.abs(moment(1))).toBeLessThan(4 * Math.sqrt(1 / 200_000))
    expect(Math.abs(moment(2) - 1)).toBeLessThan(4 * Math.sqrt(2 / 200_000))
    expect(Math.abs(moment(3))).toBeLessThan(4 * Math.sqrt(15 / 200_000))
    expect(Math.abs(moment(4) - 3)).toBeLessThan(4 * Math.sqrt(96 / 200_000))
  })
  test('neighbouring draws are not correlated', () => {
    const values = take(100_000, seededRandom(6).uniform).map(v => v - 0.5)
    const product = values.reduce((sum, v, i) => sum + v * (values[i + 1] ?? 0), 0) / 100_000
    expect(Math.abs(product)).toBeLessThan(4 * (1 / 12) * Math.sqrt(1 / 100_000))
  })
  test('every order is equally likely, and the list stays as it was', () => {
    const random = seededRandom(9)
    const list = ['a', 'b', 'c'] as const
    const seen = new Map<string, number>()
    for (let i = 0; i < 60_000; i++) {
      const order = shuffled(list, random).join('')
      seen.set(order, (seen.get(order) ?? 0) + 1)
    }
    expect(seen.size).toBe(6)
    const chiSquare = [...seen.values()].reduce((sum, c) => sum + (c - 10_000) ** 2 / 10_000, 0)
    expect(chiSquare).toBeLessThan(20.5) // 5 degrees of freedom, p = 0.001
    expect(list).toEqual(['a', 'b', 'c'])
  })
})
