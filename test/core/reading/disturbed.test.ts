import { expect, test } from 'vitest'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import { recordingOf } from './recordingOf.ts'

/** Records that something disturbs: a hum, a zero that wanders, a slope that goes on for a moment. */

test('a hum over a slow pull that bends is no noise that hides the pull', () => {
  // Up to 1,000 N along a bend, held while it yields, and torn; a hum of 1 % beats with the ten readings a second.
  const loadN = (t: number): number => (t < 90 ? 1000 * (1 - Math.exp(-t / 20)) : 0)
  const forceN = Float64Array.from(
    { length: 1000 },
    (_, k) => loadN(k / 10) + 10 * Math.sin(2 * Math.PI * 0.23 * k),
  )
  const { recording, pulls, results } = readRecording(recordingOf(forceN, 10))
  expect(recording.noiseN).toBeLessThan(25)
  expect(pulls.map(p => p.ends)).toEqual(['break'])
  expect(results.peakForce.valueN).toBeGreaterThan(980)
  expect(results.peakForce.valueN).toBeLessThan(1010)
})

test('what rises no higher than the zero has wandered is no pull', () => {
  // A pull to 100 N leaves the cell 2.4 N lower; a bump of 2.2 N follows, then one of 20 N.
  const loadN = (t: number): number => {
    if (t < 20) return 0
    if (t < 30) return 10 * (t - 20)
    const bump = (atS: number, heightN: number): number =>
      heightN * Math.min(1, Math.max(0, 3 - Math.abs(t - atS)))
    return -2.4 + bump(45, 2.2) + bump(60, 20)
  }
  const forceN = Float64Array.from({ length: 1600 }, (_, k) => loadN(k / 20) + 0.02 * Math.sin(7 * k))
  const { pulls } = readRecording(recordingOf(forceN, 20))
  expect(pulls.map(p => Math.round(p.peakN / 10))).toEqual([10, 2])
})

test('the slope of a short rest is not believed to go on for minutes', () => {
  // Twelve seconds of rest that creep down by 0.4 N, then three minutes of loading to 450 N, and the record stops.
  const loadN = (t: number): number => (t < 12 ? 0.4 - t / 30 : 2.5 * (t - 12))
  const forceN = Float64Array.from({ length: 1920 }, (_, k) => loadN(k / 10) + 0.01 * Math.sin(7 * k))
  const { zero, lowN, highN } = readRecording(recordingOf(forceN, 10)).results.peakForce
  expect(zero).toBe('seen')
  expect(highN! - lowN!).toBeLessThan(5)
})
