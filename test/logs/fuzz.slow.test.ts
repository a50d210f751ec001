import { expect, test } from 'vitest'
import { fuzz } from './fuzzRun.ts'

test('a hundred thousand damaged logs: no crash, no hang, never another unit', () => {
  const { faults, opened, slowestMs } = fuzz(100_000, 7)
  expect(faults).toEqual([])
  expect(opened).toBeGreaterThan(25_000)
  expect(slowestMs).toBeLessThan(1_000)
})
