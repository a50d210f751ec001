import { describe, expect, test } from 'vitest'
import { type Arrived, byDevice, byRate } from '../../../src/capture/timing/place.ts'

const arrived = (
  stamps: readonly number[],
  arrivals?: readonly number[],
  breaks: number[] = [],
): Arrived => ({
  stampS: Float64Array.from(stamps),
  arrivalS: Float64Array.from(arrivals ?? stamps.map((_, i) => i / 10)),
  count: Float64Array.from(stamps, (_, i) => i),
  breaks,
})
const rounded = (times: Float64Array): number[] => [...times].map(t => Math.round(t * 1e4) / 1e4)

describe('times by the device', () => {
  test('stand as they are', () => {
    const { timeS, timeFrom, segments } = byDevice(arrived([1, 1.1, 1.2]), 1e-3)
    expect(rounded(timeS)).toEqual([1, 1.1, 1.2])
    expect(timeFrom).toBe('column')
    expect(segments).toHaveLength(1)
  })
  for (const [name, tickS, endS] of [
    ['milliseconds', 1e-3, 2 ** 32 * 1e-3],
    ['microseconds', 1e-6, 2 ** 32 * 1e-6],
  ] as const) {
    for (const told of [tickS, null]) {
      test(`a counter of ${name} that wraps round goes on${told === null ? ', its step not told' : ''}`, () => {
        const stamps = [endS - 0.2, endS - 0.1, 0, 0.1]
        const { timeS, segments } = byDevice(arrived(stamps), told)
        expect(rounded(timeS.map(t => t - endS))).toEqual([-0.2, -0.1, 0, 0.1])
        expect(segments).toHaveLength(1)
      })
    }
  }
  test('a device that started anew begins a segment, as much later as it arrived', () => {
    const { timeS, segments } = byDevice(arrived([50, 50.1, 0.2, 0.3], [0, 0.1, 4.1, 4.2]), 1e-3)
    expect(rounded(timeS)).toEqual([50, 50.1, 54.1, 54.2])
    expect(segments.map(({ from, to, began }) => [from, to, began])).toEqual([
      [0, 2, 'start'],
      [2, 4, 'reset'],
    ])
    expect(timeS[2]! - segments[1]!.shiftS).toBeCloseTo(0.2, 9)
  })
  test('a last sample after a reset is kept', () => {
    const { timeS, segments } = byDevice(arrived([50, 50.1, 50.2, 0.1]), 1e-3)
    expect(timeS[3]!).toBeGreaterThan(timeS[2]!)
    expect(segments.at(-1)).toMatchObject({ from: 3, to: 4, began: 'reset' })
  })
  test('a stamp garbled on the way is set between its neighbours', () => {
    expect(rounded(byDevice(arrived([1, 1.1, 91.2, 1.3, 1.4]), 1e-3).timeS)).toEqual([1, 1.1, 1.2, 1.3, 1.4])
    expect(rounded(byDevice(arrived([1, 1.1, 0.1, 1.3, 1.4]), 1e-3).timeS)).toEqual([1, 1.1, 1.2, 1.3, 1.4])
  })
  test('missing stamps are filled in', () =>
    expect(rounded(byDevice(arrived([Number.NaN, 1.1, Number.NaN, 1.3, Number.NaN]), 1e-3).timeS)).toEqual([
      1, 1.1, 1.2, 1.3, 1.4,
    ]))
  test('a time of day that passes midnight goes on', () => {
    const { timeS, timeFrom } = byDevice(arrived([86_399.8, 86_399.9, 0, 0.1]), null)
    expect(rounded(timeS)).toEqual([86_399.8, 86_399.9, 86_400, 86_400.1])
    expect(timeFrom).toBe('clock')
  })
})

test('times by a rate count the lost samples', () => {
  const { timeS, timeFrom } = byRate({ ...arrived([0, 0, 0]), count: Float64Array.of(0, 1, 4) }, 10)
  expect(rounded(timeS)).toEqual([0, 0.1, 0.4])
  expect(timeFrom).toBe('rate')
})
