import { describe, expect, test } from 'vitest'
import { zeroStandardN } from '../../../src/core/reading/peakForce.ts'
import type { Epoch } from '../../../src/core/reading/zero/epoch.ts'

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
