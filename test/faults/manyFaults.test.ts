import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { type Counted, faulted } from './faultRuns.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

test('60 faults: no sample that was due is lost, and nothing is called kept that is not', async () => {
  const counted: Counted = { due: 0, kept: 0, held: 0 }
  for (let seed = 0; seed < 60; seed++) await faulted(seed, counted)
  expect(counted.due).toBeGreaterThan(3_000)
  expect(counted.kept).toBeGreaterThan(30)
  expect(counted.held).toBeGreaterThan(5)
})
