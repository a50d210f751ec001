import { describe, expect, test } from 'vitest'
import { zeroStandardN } from '../../../src/core/reading/peakForce.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import type { Epoch } from '../../../src/core/reading/zero/epoch.ts'
import { recordingOf } from './recordingOf.ts'

const rest = (fromS: number, toS: number, levelN: number, slopeNPerS: number): Epoch['rests'][number] => ({
  from: 0,
  to: 1,
  fromS,
  toS,
  levelN,
  slopeNPerS,
  slopeStandardN: 0.001,
  noiseN: 0.02,
})

const epoch = (rests: Epoch['rests'], movedN = 0): Epoch => ({
  from: 0,
  to: 100,
  rests,
  basis: 'rest',
  knots: [],
  standardN: 0.01,
  movedN,
  drifts: false,
  preloadN: 0,
  unseen: false,
  steps: false,
  beliefs: [],
  lone: false,
})

describe('the doubt of a zero', () => {
  test('is its own where a lone rest is level', () => {
    expect(zeroStandardN(epoch([rest(10, 14, 0, 0.002)]), 5)).toBe(0.01)
  })
  test('grows with the way from a lone rest that drifts: a uniform share of 0.05 N/s over 5 s', () => {
    // Root mean square of everything from 0 to 0.25 N about 0 is 0.25/√3.
    expect(zeroStandardN(epoch([rest(10, 14, 0, -0.05)]), 5)).toBeCloseTo(
      Math.hypot(0.01, 0.25 / Math.sqrt(3)),
      12,
    )
    expect(zeroStandardN(epoch([rest(0, 4, 0, 0.05)]), 9)).toBeCloseTo(
      Math.hypot(0.01, 0.25 / Math.sqrt(3)),
      12,
    )
  })
  test('between two rests is that of a uniform spread over what they lie apart', () => {
    const both = epoch([rest(0, 4, 0, 0.05), rest(10, 14, 0.12, 0.05)], 0.12)
    expect(zeroStandardN(both, 7)).toBeCloseTo(Math.hypot(0.01, 0.12 / Math.sqrt(12)), 12)
  })
})

test('the doubt of a peak is twice the standard uncertainty of what all its parts share', () => {
  // Rest, a rise to 60 N, a break, rest.
  const forceN = Float64Array.from({ length: 700 }, (_, k) =>
    k < 80 || k >= 500 ? 0.02 * Math.sin(7 * k) : (60 * (k - 80)) / 420,
  )
  const recording = recordingOf(forceN, 40)
  const plain = readRecording(recording).results.peakForce
  const points = [0, 100].map(atN => ({ atN, standardN: 1.5 }))
  const scaled = readRecording(recording, { scale: { source: 'calibration', shared: 'rig', points } })
  const { valueN, lowN, highN, uncertaintyN } = scaled.results.peakForce
  // Parts that are independent add up by their squares (JCGM 100:2008, 5.1.2); 95 % of a normal spread lie within two.
  const half = (mineN: number): number => Math.hypot(mineN, 2 * 1.5)
  expect(valueN! - lowN!).toBeCloseTo(half(plain.valueN! - plain.lowN!), 6)
  expect(highN! - valueN!).toBeCloseTo(half(plain.highN! - plain.valueN!), 6)
  expect(uncertaintyN!).toBeCloseTo((highN! - lowN!) / 2, 9)
})
