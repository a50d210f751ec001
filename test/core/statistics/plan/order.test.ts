import fc from 'fast-check'
import { expect, test } from 'vitest'
import { blockedOrder } from '../../../../src/core/statistics/plan/order.ts'

test('every block has every variant once, and the seed brings the order back', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 6 }),
      fc.integer({ min: 1, max: 20 }),
      fc.nat(),
      (variants, perGroup, seed) => {
        const names = Array.from({ length: variants }, (_, i) => `v${i}`)
        const plan = blockedOrder(names, perGroup, seed)
        expect(plan).toEqual(blockedOrder(names, perGroup, seed))
        expect(plan.order).toHaveLength(variants * perGroup)
        for (const [i, block] of plan.blocks.entries())
          expect(block.toSorted()).toEqual(names.map(n => `${n} ${i + 1}`).toSorted())
      },
    ),
    { seed: 41, numRuns: 100 },
  )
})

test('all orders of a block come up about equally often', () => {
  const seen = new Map<string, number>()
  for (let seed = 0; seed < 6000; seed++) {
    const key = blockedOrder(['a', 'b', 'c'], 1, seed).order.join(' ')
    seen.set(key, (seen.get(key) ?? 0) + 1)
  }
  expect(seen.size).toBe(6)
  for (const count of seen.values()) expect(Math.abs(count - 1000)).toBeLessThan(120)
})

test('blocks of two of each hold every variant twice, and the last what is left', () => {
  const { blocks, order } = blockedOrder(['a', 'b'], 5, 3, 2)
  expect(blocks.map(block => block.length)).toEqual([4, 4, 2])
  expect(blocks.map(block => block.filter(label => label.startsWith('a ')).length)).toEqual([2, 2, 1])
  expect([...order].sort()).toEqual(['a', 'b'].flatMap(v => [1, 2, 3, 4, 5].map(n => `${v} ${n}`)))
})
