import { expect, test } from 'vitest'
import { DEMO, demoRig, demoStudy, makePull, pretendLines } from '../../../src/capture/pretend/index.ts'

const study = demoStudy(1)
const named = (name: string) => study.find(s => s.specimen === name)!

test('the demo has five specimens of each of three variants', () => {
  expect(study.map(s => s.specimen)).toHaveLength(15)
  for (const variant of ['hot-melt', 'wheat-paste', 'stitching'])
    expect(study.filter(s => s.row.variant === variant)).toHaveLength(5)
})

test('its forces lie between tens and a hundred-odd newton', () => {
  for (const s of study) {
    expect(s.truth.peakN, s.specimen).toBeGreaterThan(25)
    expect(s.truth.peakN, s.specimen).toBeLessThan(140)
  }
})

test('each variant has its own character of curve', () => {
  expect(named('hot-melt-1').truth.events.length).toBeGreaterThan(2)
  expect(named('wheat-paste-1').truth.events).toEqual([])
  expect(named('wheat-paste-1').truth.pulls[0]!.ends).toBe('softening')
  const stitching = named('stitching-1').truth
  expect(stitching.pulls).toHaveLength(2)
  expect(stitching.pulls[1]!.peakN).toBeLessThan(stitching.pulls[0]!.peakN)
})

test('the troubles are spread over it', () => {
  expect(named('hot-melt-2').truth.zeroAtStartN).toBeLessThan(-5)
  expect(named('hot-melt-4').truth.events.filter(e => e.kind === 'slip')).toHaveLength(1)
  expect(named('hot-melt-5').row.mode).toBe('bag tore')
  expect(named('wheat-paste-3').truth.spikes).toHaveLength(1)
  expect(named('stitching-3').logs.map(l => l.file)).toEqual(['stitching-3.csv', 'stitching-3-log2.csv'])
  expect(named('stitching-5').truth.pulls).toHaveLength(1)
})

test('the live source sends a heading and then every sample in its time', () => {
  const lines = [...pretendLines({ kind: 'brittle', seed: 2 })]
  const { recording } = makePull({ kind: 'brittle', seed: 2 })
  expect(lines[0]!.line).toMatch(/^time_ms,force_/)
  expect(lines).toHaveLength(recording.timeS.length + 1)
  expect(Number(lines[5]!.line.split(',')[0]) / 1000).toBeCloseTo(lines[5]!.atS, 3)
})

test('the rig is described, calibrated over all of its forces to the line of its display, and checked that day', () => {
  const { rig, check } = demoRig()
  const [calibration] = rig.calibrations
  if (calibration?.document !== 'tenterhook.calibration') throw new Error('no calibration')
  expect(calibration.date < DEMO.checkedOn).toBe(true)
  // The display of the pretend rig is right, so 1 kgf is 9.80665 N within the doubt of the fit.
  expect(Math.abs(calibration.coefficients[1]! - 9.80665)).toBeLessThan(0.02)
  expect(calibration.coefficients).toHaveLength(2)
  expect(calibration.class).not.toBeNull()
  expect(calibration.warnings).toEqual([])
  for (const { truth, specimen } of demoStudy(DEMO.seed))
    expect(truth.peakN, specimen).toBeLessThan(calibration.calibratedRange.toN)
  expect(check.at.startsWith(DEMO.checkedOn)).toBe(true)
  expect(check).toMatchObject({ verdict: 'within', calibration: DEMO.calibratedOn, findings: [] })
})
