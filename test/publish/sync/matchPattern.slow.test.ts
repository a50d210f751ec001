import { expect, test } from 'vitest'
import { matchMany } from './manyScenes.ts'

test('20,000 more scenes: confident ones are within 20 ms in 95 %, hardly one in 10,000 is wrong by over 100 ms', () => {
  const tally = matchMany(1_000, 21_000)
  expect(tally.confident).toBeGreaterThan(6_500)
  // At a confidence of 0.998 and more a few are wrong in so many: the confidence is no empty word.
  expect(tally.wrong).toBeLessThanOrEqual(2)
  expect(tally.within20ms / tally.confident).toBeGreaterThanOrEqual(0.95)
  expect(tally.within20msAtStart / tally.confident).toBeGreaterThanOrEqual(0.95)
  expect(tally.withinDoubt / tally.confident).toBeGreaterThanOrEqual(0.94)
})
