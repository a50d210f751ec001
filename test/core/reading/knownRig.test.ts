import { describe, expect, test } from 'vitest'
import { makePull } from '../../../src/capture/pretend/index.ts'
import { ledgerOf } from '../../../src/core/reading/explainLedger.ts'
import type { KnownRig } from '../../../src/core/reading/knownRig.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import { recordingOf } from './recordingOf.ts'

const nothing: KnownRig = {
  source: 'check of 2031-05-04',
  settlingReadings: null,
  humN: null,
  driftNPerMin: null,
}
/** A pull at 80 readings a second that breaks at 100 N after ten seconds, behind a mean of so many readings. */
function pull(averaged: number, restAfterS = 3) {
  const force = [
    ...Array.from({ length: 240 }, () => 0),
    ...Array.from({ length: 800 }, (_, i) => (i + 1) / 8),
    ...Array.from({ length: 80 * restAfterS }, () => 0),
  ]
  const values = force.map((_, i) => {
    const from = Math.max(0, i - averaged + 1)
    const part = force.slice(from, i + 1)
    return part.reduce((a, b) => a + b, 0) / part.length + 0.02 * Math.sin(7.3 * i)
  })
  return recordingOf(Float64Array.from(values), 80)
}
const peakOf = (recording: ReturnType<typeof pull>, known?: KnownRig) => {
  const reading = readRecording(recording, known === undefined ? {} : { known })
  return { ...reading.results.peakForce, budget: reading.budget, ledger: ledgerOf(reading) }
}

test('a check that found nothing changes nothing', () => {
  const { ledger: _, ...plain } = peakOf(pull(1))
  expect(peakOf(pull(1), nothing)).toMatchObject(plain)
})

describe('what a check found of the rig', () => {
  test('a hum beyond the noise of the rests is doubt: A/√2 as a standard uncertainty, less what the rests show', () => {
    const found = peakOf(pull(1), { ...nothing, humN: 2 })
    const line = found.budget.find(l => l.source.startsWith('hum'))!
    expect(line).toMatchObject({ source: 'hum, by the check of 2031-05-04', correctionN: 0 })
    expect(line.standardN).toBeCloseTo(Math.SQRT2, 2)
    expect(found.highN! - found.lowN!).toBeGreaterThan(5.6)
    expect(found.ledger!.halfWidths[0]!.text).toBe('hum, by the check of 2031-05-04')
    expect(peakOf(pull(1), { ...nothing, humN: 0.001 }).budget.some(l => l.source.startsWith('hum'))).toBe(
      false,
    )
  })

  test('a drift is doubt where all rests lie on one side of the peak: over the 10 s to it, evenly from nothing', () => {
    // Cut at the top: the record ends there.
    const { timeS, forceN, segments, ...more } = pull(1)
    const cut = {
      ...more,
      timeS: timeS.slice(0, 1039),
      forceN: forceN.slice(0, 1039),
      segments: [{ ...segments[0]!, to: 1039 }],
    }
    const line = peakOf(cut, { ...nothing, driftNPerMin: 6 }).budget.find(l => l.source.startsWith('drift'))!
    expect(line.standardN).toBeCloseTo(1 / Math.sqrt(3), 1)
    const both = peakOf(pull(1), { ...nothing, driftNPerMin: 6 })
    expect(both.budget.some(l => l.source.startsWith('drift'))).toBe(false)
  })

  test('behind a mean of the device over six readings the true peaks lie in their intervals, without the check not', () => {
    let plain = 0
    let told = 0
    const kinds = ['saw-tooth', 'brittle', 'slips', 'stitching', 'inner-part'] as const
    for (const kind of kinds) {
      const { recording, truth } = makePull({
        kind,
        seed: 2,
        change: spec => ({ ...spec, troubles: { deviceMean: 6 } }),
      })
      const inside = (known?: KnownRig): boolean => {
        const { lowN, highN } = peakOf(recording, known)
        return lowN! <= truth.peakN && truth.peakN <= highN!
      }
      if (inside()) plain++
      if (inside({ ...nothing, settlingReadings: 6 })) told++
    }
    expect(plain).toBeLessThan(kinds.length - 1)
    expect(told).toBe(kinds.length)
  })
})
