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
