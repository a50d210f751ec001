import { expect, test } from 'vitest'
import { welch } from '../../../../src/core/statistics/compare/welch.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'
import { welchSize } from './welchSize.ts'

test('the exact size of Welch’s test is that of a simulation', () => {
  const r = seededRandom(4)
  let alarms = 0
  for (let run = 0; run < 20_000; run++) {
    const x = Float64Array.from({ length: 4 }, () => 3 * r.normal())
    const y = Float64Array.from({ length: 4 }, () => r.normal())
    if (welch(x, y)!.p < 0.05) alarms++
  }
  expect(Math.abs(alarms / 20_000 - welchSize(0.05, 4, 3))).toBeLessThan(0.004)
})

test('with one sd overwhelming the other it is Student’s own test on n − 1, and its size what was asked', () => {
  expect(Math.abs(welchSize(0.05, 5, 1e4) - 0.05)).toBeLessThan(0.001)
})

/** Why looks in groups of three and four keep under 5 in 100 where the scatters are alike, and are left so. */
test('no one limit serves few specimens: what brings alike scatters to 5 in 100 takes unlike ones past 5.7', () => {
  const at = (level: number, ratio: number) => welchSize(level, 4, ratio)
  expect(at(0.05, 1)).toBeLessThan(0.043)
  expect(at(0.05, 4)).toBeGreaterThan(0.054)
  let level = 0.05
  while (at(level, 1) < 0.05) level += 0.0005
  expect(at(level, 3)).toBeGreaterThan(0.06)
  // From six of each on both lie within 5 ± 0.7.
  for (const ratio of [1, 1.5, 2, 3, 5])
    expect(Math.abs(welchSize(0.05, 6, ratio) - 0.05)).toBeLessThan(0.007)
})
