import { expect, test } from 'vitest'
import { seeded } from '../../../src/capture/pretend/random.ts'
import { settlingOfRests } from '../../../src/core/health/restsSettling.ts'

const N = 300
const white = (seed: number): number[] => {
  const random = seeded(seed)
  return Array.from({ length: N + 30 }, () => random.normal())
}
/** White noise behind a running mean of so many readings, on a display of this step. */
const averaged = (readings: number, seed: number, step = 0): Float64Array => {
  const noise = white(seed)
  return Float64Array.from({ length: N }, (_, i) => {
    const mean = noise.slice(i, i + readings).reduce((sum, v) => sum + v, 0) / readings
    return step > 0 ? Math.round(mean / step) * step : mean
  })
}
const twoRests = [
  { from: 0, to: 130 },
  { from: 150, to: N },
]

test.each([1, 3, 6, 10])('noise behind a mean of %i readings tells that number exactly', readings => {
  for (const seed of [1, 2, 3, 4, 5])
    expect(settlingOfRests(averaged(readings, seed), twoRests)).toBe(readings)
})

test('a display step half as large as the noise that is left still tells it', () => {
  expect(settlingOfRests(averaged(6, 3, 0.2), twoRests)).toBe(6)
})

test('a hum, a swaying weight, a wandering level, a display too coarse and too few readings tell nothing', () => {
  const noise = white(7)
  const hum = Float64Array.from({ length: N }, (_, i) => 3 * Math.sin(1.7 * i) + noise[i]!)
  const sway = Float64Array.from({ length: N }, (_, i) => 20 * Math.sin(0.15 * i) + noise[i]!)
  let at = 0
  const wander = Float64Array.from({ length: N }, (_, i) => (at += noise[i]!))
  for (const none of [hum, sway, wander, averaged(6, 3, 5)])
    expect(settlingOfRests(none, twoRests)).toBeNull()
  expect(settlingOfRests(averaged(6, 3), [{ from: 0, to: 40 }])).toBeNull()
})
