import { expect, test } from 'vitest'
import { scaleByOneMass } from '../../../src/core/calibration/quickScale.ts'
import { parseRig } from '../../../src/core/calibration/rig.ts'
import { knownForPulls, knownRigOf } from '../../../src/core/health/knownRig.ts'
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

test('each fact is of the latest check, not after the recording, that looked at it', () => {
  const later = {
    ...entry,
    at: '2031-06-01T08:00:00.000Z',
    findings: [],
    settlingReadings: undefined,
    steps: ['free'],
  }
  const rig = rigWith(entry, later)
  expect(knownRigOf(rig, '2031-05-30')?.source).toBe('check of 2031-05-04')
  // The hum and the drift were looked for and are gone; without taps the settling is still that of May.
  expect(knownRigOf(rig, '2031-06-01T09:00:00Z')).toEqual({
    source: 'checks of 2031-05-04 and 2031-06-01',
    settlingReadings: 4,
    humN: null,
    driftNPerMin: null,
    warmUpNPerMin: null,
    wild: [],
  })
  expect(knownRigOf(rig, '2031-05-03')).toBeNull()
  const tapsOnly = { ...later, noise: null, settlingReadings: 1, steps: ['taps'] }
  const known = knownRigOf(rigWith(entry, tapsOnly))!
  expect(known.settlingReadings).toBe(1)
  expect(known.driftNPerMin).toBeCloseTo(0.2941995, 6)
})

const inCounts = {
  ...entry,
  forceUnit: 'counts',
  findings: [
    { code: 'hum', size: 300, unit: 'counts', text: '' },
    { code: 'drift', size: 500, unit: 'counts/min', text: '' },
  ],
  wild: [
    { slope: 2, shiftN: 1, withinN: 400 },
    { slope: 0, shiftN: 8_388_607, withinN: 10 },
  ],
}

test('of raw counts without a calibration only what has no unit is known; without a check nothing is', () => {
  for (const forceUnit of ['counts', null]) {
    const known = knownRigOf(rigWith({ ...inCounts, forceUnit }))
    expect(known).toMatchObject({ settlingReadings: 4, humN: null, driftNPerMin: null, wild: [] })
    expect(knownRigOf(rigWith({ ...inCounts, forceUnit, settlingReadings: null }))).toBeNull()
  }
  expect(knownRigOf(rigWith())).toBeNull()
  expect(knownForPulls(rigWith())).toBeNull()
})

test('a check in raw counts is told in newton by the calibration of counts, wild readings too', () => {
  // −0.002 N a count from 84 000 on: a cell with swapped wires.
  const scale = good(
    scaleByOneMass({
      appliedN: 20,
      appliedStandardN: 0.01,
      reading: 74_000,
      zeroReading: 84_000,
      readingStandard: 1,
      readingUnit: 'counts',
      date: '2031-05-10',
    }),
  )
  const rig = good(parseRig(JSON.stringify({ health: [inCounts], calibrations: [scale] }), 'rig'))
  // A calibration of later than the recording does not hold for it.
  expect(knownRigOf(rig, '2031-05-05')).toMatchObject({ humN: null, settlingReadings: 4 })
  const known = knownRigOf(rig, '2031-05-11')!
  expect(known.humN).toBeCloseTo(0.6, 9)
  expect(known.driftNPerMin).toBeCloseTo(1, 9)
  expect(knownForPulls(rig)!.day).toBe('2031-05-04')
  expect(knownForPulls(rig)!.leastDropN).toBeCloseTo(0.004, 9)
  const newton = (counts: number): number => -0.002 * (counts - 84_000)
  for (const counts of [84_000, 60_000]) {
    const [doubled, ones] = known.wild
    expect(doubled!.slope * newton(counts) + doubled!.shiftN).toBeCloseTo(newton(2 * counts + 1), 6)
    expect(ones!.slope * newton(counts) + ones!.shiftN).toBeCloseTo(newton(8_388_607), 6)
  }
  expect(known.wild[0]!.withinN).toBeCloseTo(0.8, 9)
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
