import { describe, expect, test } from 'vitest'
import { pretendKinds } from '../../../../src/capture/pretend/index.ts'
import { faults, scoreFamilies } from './families.ts'
import type { Score } from './score.ts'
import { summarise, table } from './summary.ts'

/** Readings of pretend pulls against their truth, over hundreds of seeds. */
const SEEDS = 20
const scores: Score[] = pretendKinds.flatMap(kind =>
  scoreFamilies({ kinds: [kind], firstSeed: 1001, seeds: SEEDS }),
)
const all = summarise(scores)

describe(`${pretendKinds.length} kinds of ${SEEDS} pulls each`, () => {
  console.log(`${faults(scores)}\n${table(scores)}`)

  test('events: F1 at least 0.97, kinds right at least 0.97', () => {
    expect(all.eventF1).toBeGreaterThanOrEqual(0.97)
    expect(all.kindRight).toBeGreaterThanOrEqual(0.97)
  })
  test('every pull is found, and how it ended at least 97 times in 100', () => {
    expect(all.pullsRight).toBeGreaterThanOrEqual(0.99)
    expect(all.endsRight).toBeGreaterThanOrEqual(0.97)
  })
  test('the peak is off by 0.3 % in the middle; 1 % or 6 % at the 95th part of 100, by speed', () => {
    expect(all.peakErrorMedian).toBeLessThanOrEqual(0.003)
    expect(all.peakErrorP95Fast).toBeLessThanOrEqual(0.01)
    expect(all.peakErrorP95Slow).toBeLessThanOrEqual(0.06)
  })
  test('the interval covers the true peak between 93 and 97 times in 100, and is narrow', () => {
    expect(all.peakCovered).toBeGreaterThanOrEqual(0.93)
    expect(all.peakCovered).toBeLessThanOrEqual(0.97)
    expect(all.peakWidthMedian).toBeLessThanOrEqual(0.012)
  })
  test('elements are given, bounded and right 9 times in 10', () => {
    expect(all.elementsIn).toBeGreaterThanOrEqual(0.9)
    expect(all.elementsGiven).toBeGreaterThanOrEqual(0.9)
    expect(all.elementsWidth).toBeLessThanOrEqual(2)
  })
  test('false alarms are fewer than 1 in 20 records', () => {
    expect(all.falseAlarms).toBeLessThanOrEqual(0.05)
  })
  test('faults are said: over-range, no zero, spikes, gaps, a new zero', () => {
    expect(all.saysClipped).toBeGreaterThanOrEqual(0.97)
    expect(all.saysZeroUnknown).toBeGreaterThanOrEqual(0.97)
    expect(all.spikesSaid).toBeGreaterThanOrEqual(0.97)
    expect(all.gapsSaid).toBeGreaterThanOrEqual(0.97)
    expect(all.rezeroSaid).toBeGreaterThanOrEqual(0.95)
  })
})
