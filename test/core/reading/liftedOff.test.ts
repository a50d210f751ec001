import { expect, test } from 'vitest'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import { recordingOf } from './recordingOf.ts'

/** Weights of 10 N hung one after the other, every four seconds; ten readings a second. */

const RATE_HZ = 10
const noiseN = (k: number): number => 0.03 * Math.sin(7 * k) + 0.02 * Math.sin(3.3 * k)

/** Levels, each held for four seconds and reached within `stepS`. */
const told = (levels: readonly number[], stepS = 0.35) => {
  const forceN = Float64Array.from({ length: levels.length * 4 * RATE_HZ }, (_, k) => {
    const at = Math.floor(k / (4 * RATE_HZ))
    const share = Math.min(1, (k / RATE_HZ - 4 * at) / stepS)
    const from = levels[at - 1] ?? 0
    return from + share * (levels[at]! - from) + noiseN(k)
  })
  const { pulls, results } = readRecording(recordingOf(forceN, RATE_HZ))
  return {
    ends: pulls.map(p => p.ends),
    partialBreaks: results.partialBreaks,
    peakN: results.peakForce.indicatedN,
  }
}
const hung = [0, 10, 20, 30, 40, 50]

test('weights that are taken off one by one are no breaks', () => {
  expect(told([...hung, 40, 30, 20, 10, 0, 0])).toMatchObject({ ends: ['unload'], partialBreaks: 0 })
})

test('a specimen that breaks drops all of them at once', () => {
  expect(told([...hung, 0, 0], 0.2)).toMatchObject({ ends: ['break'], partialBreaks: 0 })
})

test('without steps in the loading the same falls are breaks', () => {
  const forceN = Float64Array.from({ length: 36 * 4 * RATE_HZ }, (_, k) => {
    const s = k / RATE_HZ
    const level = s < 8 ? 0 : s < 72 ? (50 * (s - 8)) / 64 : Math.max(0, 40 - 10 * Math.floor((s - 72) / 4))
    return level + noiseN(k)
  })
  expect(readRecording(recordingOf(forceN, RATE_HZ)).pulls.map(p => p.ends)).toEqual(['break'])
})
