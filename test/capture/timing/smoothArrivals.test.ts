import { describe, expect, test } from 'vitest'
import { smoothArrivals } from '../../../src/capture/timing/smoothArrivals.ts'

/** A seeded number from 0 to 1. */
function dice(seed: number): () => number {
  let state = seed
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 2 ** 32
  }
}
const upTo = (n: number): Float64Array => Float64Array.from({ length: n }, (_, i) => i)
const worst = (a: Float64Array, b: (i: number) => number): number =>
  a.reduce((most, t, i) => Math.max(most, Math.abs(t - b(i))), 0)

describe('smoothArrivals', () => {
  for (const rateHz of [10, 80, 1000]) {
    test(`${rateHz} samples a second that a line delivers in lumps of 16 ms`, () => {
      const arrivals = upTo(3000).map(i => Math.ceil(i / rateHz / 0.016) * 0.016)
      const { timeS, rateHz: found } = smoothArrivals(arrivals, upTo(3000))
      // On average a lump is half its width late; what is left is a small part of it.
      expect(worst(timeS, i => i / rateHz + 0.008)).toBeLessThan(0.004)
      expect(Math.abs(found / rateHz - 1)).toBeLessThan(0.002)
    })
  }
  test('jitter is drawn in to a small part', () => {
    const random = dice(1)
    const arrivals = upTo(2000).map(i => i / 80 + 0.01 * random())
    const { timeS } = smoothArrivals(arrivals, upTo(2000))
    expect(worst(timeS, i => i / 80 + 0.005)).toBeLessThan(0.0025)
  })
  test('a clock that drifts is followed', () => {
    // The period grows by 1 % over 200 s.
    const at = (i: number): number => i / 10 + (0.01 / 2 / 200) * (i / 10) ** 2
    const { timeS } = smoothArrivals(upTo(2000).map(at), upTo(2000))
    expect(worst(timeS, at)).toBeLessThan(0.002)
  })
  test('a gap of the device stays a gap', () => {
    const at = (i: number): number => i / 80 + (i >= 500 ? 3 : 0)
    const { timeS } = smoothArrivals(upTo(1000).map(at), upTo(1000))
    expect(worst(timeS, at)).toBeLessThan(0.001)
  })
  test('a stall of the computer, after which all comes at once, is no gap', () => {
    const arrivals = upTo(2000).map(i => (i >= 800 && i < 880 ? 880 / 200 : i / 200))
    const { timeS } = smoothArrivals(arrivals, upTo(2000))
    expect(worst(timeS, i => i / 200)).toBeLessThan(0.03)
  })
  test('lost samples leave their room', () => {
    const count = upTo(1000).map(i => (i < 400 ? i : i + 50))
    const { timeS } = smoothArrivals(
      count.map(c => c / 100),
      count,
    )
    expect(worst(timeS, i => count[i]! / 100)).toBeLessThan(1e-6)
  })
  test('times rise strictly, whatever comes', () => {
    const random = dice(9)
    let t = 0
    const arrivals = upTo(500).map(() => {
      t += random() < 0.7 ? 0 : random() * (random() < 0.05 ? 5 : 0.1)
      return t
    })
    const { timeS } = smoothArrivals(arrivals, upTo(500))
    for (let i = 1; i < 500; i++) expect(timeS[i]!).toBeGreaterThan(timeS[i - 1]!)
  })
  test('none, one and all at once do no harm', () => {
    expect(smoothArrivals(new Float64Array(0), new Float64Array(0)).timeS).toHaveLength(0)
    expect([...smoothArrivals(Float64Array.of(3), Float64Array.of(0)).timeS]).toEqual([3])
    expect(smoothArrivals(new Float64Array(9).fill(2), upTo(9)).timeS.every(Number.isFinite)).toBe(true)
  })
})
