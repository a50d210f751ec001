import { expect, test } from 'vitest'
import { seeded } from '../../../src/capture/pretend/random.ts'
import { amendmentsOf } from '../../../src/core/reading/adjustment.ts'
import { analyse } from '../../../src/core/reading/analyse.ts'
import { recordingOf } from './recordingOf.ts'

test('the load that an unseen zero hides is rarely more than the upper end that is told', () => {
  const random = seeded(3)
  const rateHz = 20
  const runs = 60
  let within = 0
  for (let run = 0; run < runs; run++) {
    // Six elements, not quite equal, zeroed under load; four go one after another while the stretch goes on.
    const hiddenN = random.between(5, 35)
    const shares = Array.from({ length: 6 }, () => random.normal(1, 0.08))
    const whole = shares.reduce((sum, share) => sum + share, 0)
    const breaksS = Array.from({ length: 4 }, () => random.between(4, 16)).sort((a, b) => a - b)
    const forceN = Float64Array.from({ length: 18 * rateHz }, (_, i) => {
      const t = i / rateHz
      const left = shares.slice(breaksS.filter(s => s <= t).length).reduce((sum, share) => sum + share, 0)
      return (hiddenN + 6 * t) * (left / whole) - hiddenN + random.normal(0, 0.03)
    })
    const { hidden } = analyse(recordingOf(forceN, rateHz), {
      ...{ elements: 6, sensitivity: 1, amendments: amendmentsOf([]) },
    })
    if (hidden !== null && hidden.highN >= hiddenN) within++
  }
  expect(within / runs).toBeGreaterThan(0.93)
})
