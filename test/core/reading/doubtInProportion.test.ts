import { describe, expect, test } from 'vitest'
import type { Reading } from '../../../src/core/reading/document.ts'
import { laterPeakHalfN, sharesInProportion, workHalfJ } from '../../../src/core/reading/doubtInProportion.ts'

/** A peak of 50 N on a scale known to 1 % (standard), a lost zero of 0.2 N, and 0.25 N between samples. */
const reading = (
  valueN: number | null = 50,
  work: Reading['results']['work'] = { valueJ: 2, uncertaintyJ: 0.03 },
) =>
  ({
    results: { peakForce: { valueN }, work },
    budget: [
      { source: 'zero', standardN: 0.2, correctionN: 0, shared: 'recording' },
      { source: 'between samples', standardN: 0.25, correctionN: 0, shared: 'none' },
      { source: 'calibration', standardN: 0.4, correctionN: 0, shared: 'rig' },
      { source: 'mass A', standardN: 0.3, correctionN: 0, shared: 'day' },
    ],
  }) as unknown as Reading

describe('shares of the peak’s doubt in a figure that goes with the force', () => {
  test('the rig’s and the day’s by as much; a zero and the noise by nothing', () =>
    expect(sharesInProportion(reading()).map(({ line, share }) => [line.source, share])).toEqual([
      ['calibration', 0.4 / 50],
      ['mass A', 0.3 / 50],
    ]))
  test('what lies between samples by as many times as told', () =>
    expect(sharesInProportion(reading(), 2)[0]!.share).toBeCloseTo(0.01, 12))
  test('none without a peak above 0', () => {
    expect(sharesInProportion(reading(null), 2)).toEqual([])
    expect(sharesInProportion(reading(-3), 2)).toEqual([])
  })
})

test('work: the zero’s doubt over the way, the scale, and twice the last sample’s share', () => {
  // √(0.03² + (2 · 2)² (0.008² + 0.006² + 0.01²)) J
  expect(workHalfJ(reading())).toBeCloseTo(Math.sqrt(0.0009 + 16 * 0.0002), 12)
})

test('a later peak of 20 N: its own doubt and the scale', () => {
  const half = laterPeakHalfN(reading(), { valueN: 20, uncertaintyN: 0.5, atS: 1, pull: 1 })
  expect(half).toBeCloseTo(Math.hypot(0.5, 2 * 20 * 0.01), 12)
})

test('where the zero was not seen nothing is claimed; without a scale it stays its own', () => {
  expect(laterPeakHalfN(reading(), { valueN: 20, uncertaintyN: null, atS: 1, pull: 1 })).toBeNull()
  expect(workHalfJ(reading(50, { valueJ: 2, uncertaintyJ: null }))).toBeNull()
  expect(workHalfJ(reading(50, null))).toBeNull()
  expect(workHalfJ({ ...reading(), budget: [] })).toBe(0.03)
})
