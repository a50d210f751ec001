import { expect, test } from 'vitest'
import { FILLED, filled } from './realFull.ts'

/** All of them are run by `npm run test:soak -- faults`; the slow suite takes a sample. */
const RUNS = process.env.TENTERHOOK_ALL_FAULTS === '1' ? 100 : 10

test(`${RUNS} recorders whose disk is filled under them lose nothing that was due: ${FILLED}`, async () => {
  const { due, kept, killed } = await filled(3_000, RUNS, 2)
  console.log(
    `${RUNS} full disks: ${due} samples due, all there; ${kept} ended whole, ${killed} killed while full`,
  )
  expect(due).toBeGreaterThan(100 * RUNS)
  expect(kept).toBe(RUNS / 2)
})
