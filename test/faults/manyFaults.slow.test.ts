import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { type Counted, faulted } from './faultRuns.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

/** All of them are run by `npm run test:soak -- faults`; the slow suite takes a sample. */
const RUNS = process.env.TENTERHOOK_ALL_FAULTS === '1' ? 800 : 200

test(`${RUNS} faults beside the kills: no sample that was due is lost, and nothing is called kept that is not`, async () => {
  const counted: Counted = { due: 0, kept: 0, held: 0 }
  for (let seed = 100; seed < 100 + RUNS; seed++) await faulted(seed, counted)
  console.log(
    `${RUNS} faults: ${counted.due} samples due, all there; ${counted.kept} recordings called kept, all of them whole on the disk; ${counted.held} called not kept yet`,
  )
  expect(counted.due).toBeGreaterThan(50 * RUNS)
  expect(counted.kept).toBeGreaterThan(0.6 * RUNS)
  expect(counted.held).toBeGreaterThan(0.1 * RUNS)
})
