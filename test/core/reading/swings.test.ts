import { describe, expect, test } from 'vitest'
import { quietStretches } from '../../../src/core/reading/quiet.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import { swingingStretches, withSwings } from '../../../src/core/reading/swings.ts'
import type { Recording, Segment } from '../../../src/core/recording.ts'

const RATE_HZ = 80
const signal = { periodS: 1 / RATE_HZ, noiseN: 0.3, quantumN: 0 }
const segments = (n: number): Segment[] => [
  { from: 0, to: n, began: 'start', name: '', sha256: '', shiftS: 0 },
]

/** 3 s of rest, 6 s up to 1000 N, a break and 8 s of rest, with a swing all the while and a little even ripple. */
function swinging(ampN: number, hz: number) {
  const timeS = Float64Array.from({ length: 17 * RATE_HZ }, (_, i) => i / RATE_HZ)
  const forceN = timeS.map((t, i) => {
    const pulledN = t >= 3 && t < 9 ? (1000 * (t - 3)) / 6 : 0
    return pulledN + ampN * Math.sin(2 * Math.PI * hz * t) + 0.4 * (((i * 7) % 5) / 2 - 1)
  })
  return { timeS, forceN }
}

describe('a swing at rest', () => {
  test.each([
    [5, 1],
    [3, 2],
    [10, 3],
  ])('of %d N at %d Hz has the mean of its whole swings for level', (ampN, hz) => {
    const { timeS, forceN } = swinging(ampN, hz)
    const swings = swingingStretches(timeS, forceN, segments(timeS.length), signal)
    expect(swings.length).toBe(2)
    for (const q of swings) {
      expect(Math.abs(q.levelN)).toBeLessThan(0.03 * ampN)
      expect(q.swingN! / ampN).toBeCloseTo(Math.SQRT1_2, 1)
    }
  })
  test('is a zero, and its width is in the doubt of the peak', () => {
    const { timeS, forceN } = swinging(5, 1)
    const recording: Recording = {
      name: '',
      sha256: '',
      timeS,
      forceN,
      forceUnit: 'N',
      timeFrom: 'column',
      segments: segments(timeS.length),
      channels: [],
      notes: [],
      assumptions: [],
      understood: '',
    }
    const { results, warnings } = readRecording(recording)
    expect(warnings.map(w => w.code)).not.toContain('zero-unknown')
    expect(results.peakForce.status).toBe('measured')
    expect(results.peakForce.lowN).toBeLessThan(1000)
    expect(results.peakForce.highN).toBeGreaterThan(1000)
    expect(results.peakForce.uncertaintyN).toBeLessThan(12)
  })
  test('stands in for its turning points, and not for a rest that is still', () => {
    const { timeS, forceN } = swinging(2, 0.5)
    const quiets = quietStretches(timeS, forceN, segments(timeS.length), signal)
    const swing = { ...quiets[0]!, from: 0, to: 240, levelN: 0, swingN: 1 }
    const points = [20, 60].map(from => ({ ...quiets[0]!, from, to: from + 25 }))
    expect(withSwings(points, [swing])).toEqual([swing])
    const rest = { ...swing, to: 200 }
    expect(withSwings([rest], [swing])).toEqual([rest])
  })
  test('is none where nothing swings', () => {
    const { timeS, forceN } = swinging(0, 1)
    expect(swingingStretches(timeS, forceN, segments(timeS.length), signal)).toEqual([])
  })
})
