import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { type Counted, faulted } from './faultRuns.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

test('800 faults beside the 200 kills: no sample that was due is lost, and nothing is called kept that is not', async () => {
  const counted: Counted = { due: 0, kept: 0, held: 0 }
  for (let seed = 100; seed < 900; seed++) await faulted(seed, counted)
  expect(counted.due).toBeGreaterThan(40_000)
  expect(counted.kept).toBeGreaterThan(500)
  expect(counted.held).toBeGreaterThan(80)
})
