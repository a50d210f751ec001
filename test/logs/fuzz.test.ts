import { expect, test } from 'vitest'
import { fuzz } from './fuzzRun.ts'

test('two thousand damaged logs: no crash, no hang, never another unit', () => {
  const { faults, opened, slowestMs } = fuzz(2_000, 20_261_125)
  expect(faults).toEqual([])
  expect(opened).toBeGreaterThan(500)
  // A guard against hanging, far above what any of them takes.
  expect(slowestMs).toBeLessThan(1_000)
})
