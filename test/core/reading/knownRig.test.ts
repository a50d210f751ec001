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
  warmUpNPerMin: null,
  wild: [],
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

  test('what an averaging cuts off a sharp top is added: the pace over half of its readings and half of one more', () => {
    // 10 N/s behind a mean of six at 80 readings a second: 3.5 readings of 1/8 N.
    const found = peakOf(pull(6), { ...nothing, settlingReadings: 6 })
    const line = found.budget.find(l => l.source === 'settling, by the check of 2031-05-04')!
    const between = found.budget.find(l => l.source === 'between samples')!
    expect(line.correctionN + Math.max(0, between.correctionN)).toBeCloseTo(3.5 / 8, 1)
    expect(line.standardN).toBeGreaterThan(0.2 * (3.5 / 8) * 0.9)
    expect(found.lowN!).toBeLessThan(100)
    expect(found.highN!).toBeGreaterThan(100)
    expect(peakOf(pull(1), { ...nothing, settlingReadings: 1 }).budget.some(settles)).toBe(false)
  })

  test('a warm-up is doubt where all rests lie on one side, at most as fast as the rest before the peak lets it be', () => {
    const cut = cutAtTop()
    const slow = warmUpOf(cut, 0.06)!
    expect(slow.standardN).toBeCloseTo(0.01 / Math.sqrt(3), 3)
    // 60 N/min would have been seen in the three seconds before the pull.
    expect(warmUpOf(cut, 60)!.standardN).toBeLessThan(0.1)
    expect(warmUpOf(pull(1), 60)).toBeUndefined()
  })

  test('behind a mean of the device over six readings the true peaks lie in their intervals, by a check or by the rests', () => {
    const held = { plain: 0, told: 0 }
    const lines: string[] = []
    const kinds = ['saw-tooth', 'brittle', 'slips', 'stitching', 'inner-part'] as const
    for (const kind of kinds) {
      const { recording, truth } = makePull({
        kind,
        seed: 2,
        change: spec => ({ ...spec, troubles: { deviceMean: 6 } }),
      })
      const inside = (known?: KnownRig): number => {
        const { lowN, highN, budget } = peakOf(recording, known)
        if (known === undefined) {
          const own = budget.filter(settles)
          lines.push(...own.map(l => l.source))
          // The rests may have moved by themselves: they widen the peak and never raise it.
          expect(own.every(l => l.correctionN === 0)).toBe(true)
        }
        return lowN! <= truth.peakN && truth.peakN <= highN! ? 1 : 0
      }
      held.plain += inside()
      held.told += inside({ ...nothing, settlingReadings: 6 })
      // A check that says that it settles at once is believed.
      expect(peakOf(recording, { ...nothing, settlingReadings: 1 }).budget.some(settles)).toBe(false)
    }
    expect(held.told).toBe(kinds.length)
    expect(held.plain).toBeGreaterThanOrEqual(kinds.length - 1)
    expect(lines.filter(l => l === 'settling, by the noise of the rests').length).toBeGreaterThanOrEqual(3)
  })
})

const settles = ({ source }: { readonly source: string }): boolean => source.startsWith('settling')

/** A pull whose record ends at the top. */
function cutAtTop() {
  const { timeS, forceN, segments, ...more } = pull(1)
  return {
    ...more,
    timeS: timeS.slice(0, 1039),
    forceN: forceN.slice(0, 1039),
    segments: [{ ...segments[0]!, to: 1039 }],
  }
}

const warmUpOf = (recording: ReturnType<typeof pull>, warmUpNPerMin: number) =>
  peakOf(recording, { ...nothing, warmUpNPerMin }).budget.find(l => l.source.startsWith('warm-up'))

describe('wild readings', () => {
  const wild = [{ slope: 2, shiftN: 42, withinN: 0.5 }]
  const withWild = (...at: number[]) => {
    const recording = pull(1)
    const forceN = recording.forceN.slice()
    for (const i of at) forceN[i] = 2 * forceN[i]! + 42
    return { ...recording, forceN }
  }

  test('one at the top hides it: the force may have gone on to the reading after, and the ledger says so', () => {
    // The last reading before the break, 100 N; the one before is 99.875 N.
    const found = peakOf(withWild(1039), { ...nothing, wild })
    expect(
      found.budget.find(l => l.source === 'wild reading left out at the top')!.standardN,
    ).toBeGreaterThan(0.03)
    expect(found.valueN!).toBeLessThan(101)
    expect(found.highN!).toBeGreaterThan(100)
    expect(peakOf(withWild(600)).budget.some(l => l.source.startsWith('wild'))).toBe(false)
  })

  test('those of a pattern that a check found are left out on a course where one alone is not told, and it is named', () => {
    // Beside the break, where neighbours of two levels tell nothing.
    const recording = withWild(1038, 1039)
    expect(peakOf(recording).valueN!).toBeGreaterThan(200)
    const reading = readRecording(recording, { known: { ...nothing, wild } })
    expect(reading.results.peakForce.valueN!).toBeLessThan(101)
    expect(reading.warnings.find(w => w.code === 'spike')!.text).toContain(
      '2 of them are of a kind that the check of 2031-05-04 found',
    )
  })

  test('the last good reading before a break is none, whatever the pattern', () => {
    const { spikes } = readRecording(pull(1), {
      known: {
        ...nothing,
        wild: [
          { slope: 2, shiftN: 0, withinN: 0.5 },
          { slope: 0.5, shiftN: 0, withinN: 0.5 },
        ],
      },
    }).recording
    expect(spikes).toEqual([])
  })
})
