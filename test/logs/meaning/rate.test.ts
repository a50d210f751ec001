import { describe, expect, test } from 'vitest'
import { sampleRate } from '../../../src/core/signal/rate.ts'
import { lines, recordingOf } from '../support.ts'

/**
 * A record at `hz` whose stamps are cut to `places` decimals of a second; the step at `gapAt` is 20 samples
 * long.
 */
function stamped(hz: number, places: number, gapAt = -1) {
  const scale = 10 ** places
  const row = (i: number): string => {
    const s = Math.floor(((i + (gapAt >= 0 && i >= gapAt ? 20 : 0)) / hz) * scale + 1e-9) / scale
    return `${s.toFixed(places)},${i % 40}`
  }
  return recordingOf(`time_s,force_N\n${lines(4 * hz + 3, row)}`)
}

describe('the rate of stamps rounded more coarsely than the period is the mean over the run', () => {
  test.each([
    [700, 3],
    [1280, 3],
    [2000, 3],
    [5000, 3],
    [80, 2],
    [300, 3],
    [320, 3],
    [90, 2],
    [80, 1],
  ])('%d Hz at %d decimals', (hz, places) => {
    const r = stamped(hz, places)
    const said = Number(/at ([\d.]+) a second/.exec(r.understood)?.[1])
    expect(Math.abs(said / hz - 1)).toBeLessThan(0.005)
    const { periodS, gapS } = sampleRate(r.timeS, r.segments)
    expect(Math.abs(1 / periodS / hz - 1)).toBeLessThan(0.005)
    // Nothing is missing, at the end as little as elsewhere.
    expect(r.timeS.every((t, i) => i === 0 || t - r.timeS[i - 1]! <= gapS)).toBe(true)
  })
  test('a gap is no part of it', () => {
    const r = stamped(80, 3, 100)
    expect(r.understood).toMatch(/at 80 a second/)
    expect(1 / sampleRate(r.timeS, r.segments).periodS).toBeCloseTo(80, 1)
  })
})
