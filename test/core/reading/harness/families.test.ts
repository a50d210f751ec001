import { expect, test } from 'vitest'
import { pretendKinds } from '../../../../src/capture/pretend/index.ts'
import { faults, scoreFamilies } from './families.ts'
import { summarise } from './summary.ts'

/** The quick look at what families.slow.test.ts judges by the hundred. */
test('a few pretend pulls of every kind are read nearly as well as many must be', () => {
  const scores = scoreFamilies({ kinds: pretendKinds, firstSeed: 501, seeds: 1 })
  const all = summarise(scores)
  const told = faults(scores)
  expect(all.eventF1, told).toBeGreaterThan(0.93)
  expect(all.kindRight, told).toBeGreaterThan(0.93)
  expect(all.pullsRight, told).toBeGreaterThan(0.95)
  expect(all.endsRight, told).toBeGreaterThan(0.93)
  expect(all.peakErrorMedian, told).toBeLessThan(0.003)
  expect(all.peakCovered, told).toBeGreaterThan(0.85)
  expect(all.falseAlarms, told).toBeLessThan(0.15)
})
