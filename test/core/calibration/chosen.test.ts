import { expect, test } from 'vitest'
import { withRig } from '../../../src/core/calibration/applyRig.ts'
import { calibrationCalled, calibrationKey } from '../../../src/core/calibration/chosen.ts'
import { rigSchema } from '../../../src/core/calibration/rig.ts'
import { recordingOf } from './recordings.ts'

const scale = (date: string, newtonPerReading: number, readingUnit = 'counts') => ({
  document: 'tenterhook.quick-scale',
  version: 1,
  date,
  basis: 'one-mass',
  readingUnit,
  newtonPerReading,
  zeroReading: 0,
  appliedN: 20,
  doubtPct: 1,
})
const rig = rigSchema.parse({
  name: 'bench',
  calibrations: [
    scale('2026-03-01', 1),
    scale('2026-05-01', 2),
    scale('2026-05-01', 3),
    scale('2026-08-01', 4),
    scale('2026-05-02', 1.01, 'N'),
  ],
})
const called = (key: string) => {
  const found = calibrationCalled(rig, key)
  return found.ok ? calibrationKey(found.value) : found.problems[0]!
}
const counts = recordingOf([0, 1, 2], { unit: 'counts' })
const withChosen = (key: string, day?: string, recording = counts) => {
  const found = calibrationCalled(rig, key)
  if (!found.ok) throw new Error(key)
  const { recording: read, warnings } = withRig(recording, rig, day, found.value)
  return { forces: Array.from(read.forceN), unit: read.forceUnit, warnings }
}

test('a calibration is called by its day, and by more of its key where two are of one day', () => {
  expect(called('2026-03-01')).toBe('2026-03-01 counts 1 0 1')
  expect(called('2026-05-01 counts 3')).toBe('2026-05-01 counts 3 0 1')
  expect(called('2026-05-01')).toMatchObject({ what: 'several of bench begin so.' })
  expect(called('')).toMatchObject({ what: 'several of bench begin so.' })
  expect(called('2026-09-01')).toMatchObject({
    what: 'bench has no such calibration.',
    cure: expect.stringContaining('“2026-08-01 counts 4 0 1”'),
  })
  // A key that others go on from is still found whole.
  const nested = {
    ...rig,
    calibrations: rigSchema.parse({
      calibrations: [scale('2026-01-01', 1), { ...scale('2026-01-01', 1), doubtPct: 15 }],
    }).calibrations,
  }
  const whole = calibrationCalled(nested, '2026-01-01 counts 1 0 1')
  expect(whole).toMatchObject({ value: { doubtPct: 1 } })
})

test('the chosen one counts whatever its day, and what the day alone would give is said', () => {
  expect(withRig(counts, rig, '2026-04-01').recording.forceN[2]).toBe(2)
  const later = withChosen('2026-08-01', '2026-04-01')
  expect(later.forces).toEqual([0, 4, 8])
  expect(later.warnings.map(({ code }) => code)).toContain('calibration-chosen')
  expect(later.warnings[0]?.text).toBe(
    'The scale by one mass of 2026-08-01, made 122 days after the pull, was chosen for this recording; by its day it would be the scale by one mass of 2026-03-01.',
  )
  expect(withChosen('2026-05-01 counts 3', '2026-02-01').warnings[0]?.text).toContain(
    'by its day there is none',
  )
})

test('one that its day gives anyway needs no word', () => {
  const { forces, warnings } = withChosen('2026-03-01', '2026-04-01')
  expect(forces).toEqual([0, 1, 2])
  expect(warnings.map(({ code }) => code)).not.toContain('calibration-chosen')
})

test('one of other readings than the log has turns nothing, and it is said', () => {
  const { forces, unit, warnings } = withChosen('2026-05-02')
  expect([forces, unit]).toEqual([[0, 1, 2], 'counts'])
  expect(warnings).toMatchObject([
    { code: 'calibration-not-used', text: expect.stringContaining('the log is in counts') },
  ])
  const inNewton = withChosen('2026-05-02', '2026-06-01', recordingOf([0, 100]))
  expect(inNewton.forces[1]).toBeCloseTo(101, 9)
})
