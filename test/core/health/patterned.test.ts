import { expect, test } from 'vitest'
import { makePull } from '../../../src/capture/pretend/index.ts'
import { patternedGlitches } from '../../../src/core/health/patterned.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'

const pullWith = (share: number) =>
  makePull({
    kind: 'slips',
    seed: 3,
    change: spec => ({
      ...spec,
      troubles: { glitches: { doubled: share, halved: share, ones: share, channel: share } },
    }),
  })

test('wild readings that come together do not make a peak, and each is named', () => {
  const { recording, truth } = pullWith(0.0035)
  const reading = readRecording(recording)
  const { lowN, highN } = reading.results.peakForce
  expect(lowN!).toBeLessThanOrEqual(truth.peakN)
  expect(highN!).toBeGreaterThanOrEqual(truth.peakN)
  const named = new Set(reading.recording.spikes.map(s => s.atS))
  const seen = truth.spikes.filter(s => named.has(s.t))
  expect(truth.spikes.length).toBeGreaterThan(12)
  expect(seen.length).toBeGreaterThan(0.9 * truth.spikes.length)
})

test('a pull without them has none', () => {
  const { recording } = pullWith(0)
  expect(patternedGlitches(recording, { noiseN: 0.02, quantumN: 0, periodS: 1 / 80 })).toEqual([])
})
