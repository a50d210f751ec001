import { expect, test } from 'vitest'
import { killed } from './kills.ts'

/** All of them are run by `npm run test:soak -- faults`; the slow suite takes a sample. */
const RUNS = process.env.TENTERHOOK_ALL_FAULTS === '1' ? 200 : 40

test(`${RUNS} kills at random moments lose no sample that arrived 200 ms before`, async () => {
  const kills = await killed(1_000, RUNS, 3)
  const due = kills.reduce((n, kill) => n + kill.due, 0)
  console.log(`${RUNS} kills: ${due} samples due, all there`)
  expect(due).toBeGreaterThan(25 * RUNS)
})
