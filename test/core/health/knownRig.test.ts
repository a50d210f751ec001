import { expect, test } from 'vitest'
import { parseRig } from '../../../src/core/calibration/rig.ts'
import { knownRigOf } from '../../../src/core/health/knownRig.ts'
import { good } from '../../store/stores.ts'

const entry = {
  at: '2031-05-04T10:00:00.000Z',
  healthy: false,
  findings: [
    { code: 'hum', size: 20, unit: 'gf', text: '' },
    { code: 'drift', size: 30, unit: 'gf/min', text: '' },
  ],
  rateHz: 80,
  noise: 0.1,
  forceUnit: 'gf',
  leastDropN: 2,
  waitMin: null,
  settlingReadings: 4,
}
const rigWith = (...health: object[]) => good(parseRig(JSON.stringify({ health }), 'rig'))

test('what a check found comes in newton, whatever unit it was shown in (1 gf = 9.80665 mN)', () => {
  const known = knownRigOf(rigWith(entry))!
  expect(known.source).toBe('check of 2031-05-04')
  expect(known.humN).toBeCloseTo(0.196133, 6)
  expect(known.driftNPerMin).toBeCloseTo(0.2941995, 6)
  expect(known.settlingReadings).toBe(4)
})

test('the latest check that is not after the recording counts, and what was not looked at is not known', () => {
  const later = { ...entry, at: '2031-06-01T08:00:00.000Z', findings: [], settlingReadings: undefined }
  const rig = rigWith(entry, later)
  expect(knownRigOf(rig, '2031-05-30')?.source).toBe('check of 2031-05-04')
  expect(knownRigOf(rig, '2031-06-01T09:00:00Z')).toEqual({
    source: 'check of 2031-06-01',
    settlingReadings: null,
    humN: null,
    driftNPerMin: null,
    warmUpNPerMin: null,
    wild: [],
  })
  expect(knownRigOf(rig, '2031-05-03')).toBeNull()
})

test('a check in raw counts tells nothing in newton, nor does a rig without one', () => {
  expect(knownRigOf(rigWith({ ...entry, forceUnit: 'counts' }))).toBeNull()
  expect(knownRigOf(rigWith({ ...entry, forceUnit: null }))).toBeNull()
  expect(knownRigOf(rigWith())).toBeNull()
})

test('a warm-up and the patterns of wild readings are told, as a check kept them', () => {
  const wild = [{ slope: 0, shiftN: -197, withinN: 0.4 }]
  const known = knownRigOf(
    rigWith({
      ...entry,
      findings: [{ code: 'warm-up', size: 2, unit: 'kgf/min', text: '' }],
      wild,
    }),
  )!
  expect(known.warmUpNPerMin).toBeCloseTo(19.6133, 6)
  expect(known.wild).toEqual(wild)
})
