import fc from 'fast-check'
import { expect, test } from 'vitest'
import { nthLeast } from '../../../src/core/signal/order.ts'

test('the nth least value is that of the sorted values, and what lies past the count is not looked at', () => {
  const numbers = fc.array(fc.oneof(fc.integer({ min: -3, max: 3 }), fc.double({ noNaN: true })), {
    minLength: 1,
    maxLength: 60,
  })
  fc.assert(
    fc.property(numbers, fc.nat(), fc.nat(), (values, count, rank) => {
      const n = 1 + (count % values.length)
      const sorted = Float64Array.from(values.slice(0, n)).sort()
      // Signed zeros are one value here.
      expect(nthLeast(Float64Array.from(values), n, rank % n) + 0).toBe(sorted[rank % n]! + 0)
    }),
    { seed: 17, numRuns: 500 },
  )
})
