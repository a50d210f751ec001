import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { paced } from '../../../src/capture/session/paced.ts'

beforeEach(() => {
  vi.useFakeTimers()
})
afterEach(() => {
  vi.useRealTimers()
})

/** When the work was done, in ms since the start, for asks at those moments; stopped at `stopMs`. */
function done(askedMs: readonly number[], stopMs = Number.POSITIVE_INFINITY): number[] {
  const began = performance.now()
  const times: number[] = []
  const pace = paced(() => times.push(performance.now() - began), 8)
  for (let ms = 0; ms <= 60; ms++) {
    if (ms === stopMs) pace.stop()
    if (askedMs.includes(ms)) pace.ask()
    vi.advanceTimersByTime(1)
  }
  return times
}

test('what comes after a pause is done at once', () => expect(done([0, 10, 22, 50])).toEqual([0, 10, 22, 50]))

test('what comes too soon is done as soon as it may, once, and nothing is left undone', () =>
  expect(done([0, 1, 2, 3])).toEqual([0, 8]))

test('a steady stream is done every 8 ms', () =>
  expect(done(Array.from({ length: 32 }, (_, ms) => ms))).toEqual([0, 8, 16, 24, 32]))

test('once stopped, what still waited is left', () => expect(done([0, 3], 5)).toEqual([0]))
