import { expect, test } from 'vitest'
import { ahead } from '../../../src/publish/report/ahead.ts'

const later = (ms: number) => new Promise(resolve => setTimeout(resolve, ms))
const all = async <T>(made: AsyncIterable<T>): Promise<T[]> => {
  const found: T[] = []
  for await (const one of made) found.push(one)
  return found
}

test('all comes in order, however long each takes, and no more than asked for is in the making', async () => {
  let busy = 0
  let most = 0
  const make = async (n: number) => {
    most = Math.max(most, ++busy)
    await later(n % 3)
    busy--
    return 10 * n
  }
  const items = Array.from({ length: 20 }, (_, i) => 20 - i)
  expect(await all(ahead(items, make, 4))).toEqual(items.map(n => 10 * n))
  expect(most).toBe(4)
})

test('what takes no time comes too, and of nothing comes nothing', async () => {
  expect(await all(ahead([1, 2], n => -n))).toEqual([-1, -2])
  expect(await all(ahead([], n => n))).toEqual([])
})

test('what fails is told in its turn', async () => {
  const seen: number[] = []
  const run = async () => {
    const make = async (n: number) => {
      if (n === 2) throw new Error('two')
      await later(1)
      return n
    }
    for await (const n of ahead([1, 2, 3], make)) seen.push(n)
  }
  await expect(run()).rejects.toThrow('two')
  expect(seen).toEqual([1])
})
