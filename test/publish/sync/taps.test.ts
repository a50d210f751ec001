import { expect, test } from 'vitest'
import { makePull, type PretendKind, pretendKinds } from '../../../src/capture/pretend/index.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import type { Recording } from '../../../src/core/recording.ts'
import { momentPatterns } from '../../../src/publish/sync/moments.ts'
import { withTaps } from './tapped.ts'

const SEEDS = [1, 2, 3, 4]
/** Here the hand knocks against the rig by itself; what the recording shows are knocks. */
const HANDLED = ['hands', 'mixed']

const tapsOf = (recording: Recording): number[] =>
  momentPatterns(recording, readRecording(recording, {}))
    .flatMap(p => p.moments)
    .filter(m => m.what === 'tap')
    .map(m => m.atS)

function pretend(kind: PretendKind, seed: number) {
  const { recording, truth } = makePull({ kind, seed })
  const startS = recording.timeS[0]!
  const restS = (readRecording(recording, {}).pulls[0]?.startS ?? startS) - startS
  // Taps are 0.4 s apart or more, however slow the log.
  const taps = restS < 3 ? [] : [0.3, 0.5, 0.8].map(share => startS + share * restS)
  const peakN = Math.max(4, 30 * truth.noiseN, 10 * truth.quantumN)
  return { recording, truth, taps, peakN }
}

test.each(pretendKinds)('%s: taps are found to within a sampling period, and nothing else is a tap', kind => {
  let made = 0
  let missed = 0
  let others = 0
  for (const seed of SEEDS) {
    const { recording, truth, taps, peakN } = pretend(kind, seed)
    others += tapsOf(recording).length
    const found = tapsOf(withTaps(recording, taps, { peakN }))
    made += taps.length
    missed += taps.filter(tap => !found.some(t => Math.abs(t - tap) <= 0.6 / truth.rateHz + 0.005)).length
  }
  expect(missed).toBeLessThanOrEqual(made > 0 ? 1 : 0)
  if (!HANDLED.includes(kind)) expect(others).toBeLessThanOrEqual(2)
})

test('a converter that averages over several readings does not move a tap', () => {
  for (const seed of SEEDS) {
    const { recording, truth, taps, peakN } = pretend('hot-melt', seed)
    const found = tapsOf(withTaps(recording, taps, { peakN: 4 * peakN, span: 4 }))
    for (const tap of taps)
      expect(Math.min(...found.map(t => Math.abs(t - tap)))).toBeLessThanOrEqual(0.6 / truth.rateHz + 0.005)
  }
})

test('a tap on the rig leaves the peak as it was', () => {
  const { recording, taps, peakN } = pretend('hot-melt', 3)
  expect(taps.length).toBe(3)
  const tapped = readRecording(withTaps(recording, taps, { peakN }), {})
  const plain = readRecording(recording, {})
  expect(tapped.results.peakForce.valueN).toBeCloseTo(plain.results.peakForce.valueN!, 1)
  expect(tapped.pulls.length).toBe(plain.pulls.length)
})

test('each segment has a pattern of its own', () => {
  const { recording } = makePull({ kind: 'two-logs', seed: 2 })
  const patterns = momentPatterns(recording, readRecording(recording, {}))
  expect(patterns.length).toBe(recording.segments.length)
  for (const { fromS, toS, moments } of patterns)
    for (const { atS } of moments) expect(atS > fromS - 1 && atS <= toS).toBe(true)
})
