import { describe, expect, test } from 'vitest'
import { applyRig } from '../../../src/core/calibration/applyRig.ts'
import { calibrate } from '../../../src/core/calibration/calibrate.ts'
import type { Point } from '../../../src/core/calibration/points.ts'
import { scaleByOneMass, scaleByTypedDoubt } from '../../../src/core/calibration/quickScale.ts'
import { parseRig, type Rig, rigSchema } from '../../../src/core/calibration/rig.ts'
import { gravityOf, tensionOf } from '../../../src/core/calibration/rigFacts.ts'
import { scaleStandardN } from '../../../src/core/reading/scale.ts'
import { seededRandom } from '../../../src/core/statistics/random.ts'
import { typedGravity } from '../../../src/core/units/gravity.ts'
import { recordingOf } from './recordings.ts'

const random = seededRandom(3)
const points: Point[] = [1, 2, 3].flatMap(cycle =>
  [0, 20, 40, 60, 80, 100].map(appliedN => ({
    line: 0,
    appliedN,
    reading: Math.round(50_000 + 2000 * appliedN + 30 * random.normal()),
    direction: 'up' as const,
    cycle,
  })),
)

function calibrated(date: string, unit: 'counts' | 'kgf' = 'counts') {
  const given =
    unit === 'counts' ? points : points.map(p => ({ ...p, reading: (p.reading - 50_000) / 2000 / 10 }))
  const outcome = calibrate(
    { name: 'p.csv', points: given, doubts: [], gravity: typedGravity(9.81, 0), readingUnit: unit },
    { date },
  )
  if (!outcome.ok) throw new Error(outcome.problems[0]?.what)
  return { ...outcome.value, date }
}

const rigOf = (given: object): Rig => rigSchema.parse(given)

const applied = (...args: Parameters<typeof applyRig>) => {
  const outcome = applyRig(...args)
  if (!outcome.ok) throw new Error(outcome.problems[0]?.what)
  return outcome.value
}

const counts = recordingOf([50_000, 150_000, 250_000], { unit: 'counts' })

describe('readings into newton', () => {
  const rig = rigOf({ calibrations: [calibrated('2026-05-03')] })
  test('counts by the fit', () => {
    const { recording, scale } = applied(counts, rig, '2026-06-01')
    expect(recording.forceUnit).toBe('N')
    ;[0, 50, 100].forEach((forceN, i) => {
      expect(Math.abs(recording.forceN[i]! - forceN)).toBeLessThan(0.03)
    })
    expect(scale?.source).toBe('calibration of 2026-05-03')
    expect(scaleStandardN(scale!, 50)).toBeGreaterThan(0.01)
    expect(scaleStandardN(scale!, 50)).toBeLessThan(0.05)
    expect(counts.forceN[1]).toBe(150_000) // the raw recording stays as it is
  })
  test('an indicator in kilogram-force is put right, and keeps its unit for show', () => {
    // The indicator shows 10 N as 1 kgf: 2 % too high. The recording holds newtons.
    const shown = recordingOf([0, 5 * 9.80665], { unit: 'kgf' })
    const { recording } = applied(shown, rigOf({ calibrations: [calibrated('2026-05-03', 'kgf')] }))
    expect(Math.abs(recording.forceN[1]! - 50)).toBeLessThan(0.03)
    expect(recording.forceUnit).toBe('kgf')
  })
  test('counts without a calibration are a problem with its cure', () => {
    const outcome = applyRig(counts, rigOf({}))
    expect(outcome.ok ? '' : outcome.problems[0]?.cure).toContain('Calibrate the rig first')
  })
  test('forces without a calibration stay, with no scale', () => {
    const { recording, scale } = applied(recordingOf([0, 5]), rigOf({}))
    expect(Array.from(recording.forceN)).toEqual([0, 5])
    expect(scale).toBeNull()
  })
  test('a calibration of counts does not touch a log in newton, and that is said', () => {
    const { scale, warnings } = applied(recordingOf([0, 5]), rig)
    expect(scale).toBeNull()
    expect(warnings.map(w => w.code)).toContain('calibration-not-used')
  })
})

describe('which calibration', () => {
  const rig = rigOf({
    calibrations: [calibrated('2026-05-03'), calibrated('2025-01-01'), calibrated('2026-09-01')],
  })
  test('the latest not after the date', () => {
    expect(applied(counts, rig, '2026-06-01').calibration?.date).toBe('2026-05-03')
    expect(applied(counts, rig, '2025-02-01').calibration?.date).toBe('2025-01-01')
    expect(applied(counts, rig).calibration?.date).toBe('2026-09-01')
    expect(applyRig(counts, rig, '2024-12-31').ok).toBe(false)
  })
  test('one older than the limit is warned of', () => {
    const codes = (at: string) => applied(counts, rig, at).warnings.map(w => w.code)
    expect(codes('2026-12-01')).not.toContain('calibration-old')
    expect(codes('2027-12-01')).toContain('calibration-old')
  })
})

describe('loads beyond what is known', () => {
  const rig = rigOf({ cell: { capacityN: 200 }, calibrations: [calibrated('2026-05-03')] })
  const codes = (counts: number[]) =>
    applied(recordingOf([50_000, ...counts, ...counts], { unit: 'counts' }), rig).warnings.map(w => w.code)
  test('within the loads: no word', () => expect(codes([249_000, 249_000])).toEqual([]))
  test('beyond the loads', () => expect(codes([300_000, 300_000])).toEqual(['beyond-calibration']))
  test('near the capacity', () => expect(codes([380_000, 380_000])).toContain('near-capacity'))
  test('over it', () => expect(codes([460_000, 460_000])).toContain('over-capacity'))
  test('a single glitch does not count', () =>
    expect(applied(recordingOf([50_000, 900_000, 50_000, 60_000], { unit: 'counts' }), rig).warnings).toEqual(
      [],
    ))
  test('the doubt grows beyond the loads', () => {
    const scale = applied(counts, rig).scale!
    expect(scaleStandardN(scale, 250)).toBeGreaterThan(1.3 * scaleStandardN(scale, 100))
  })
})

describe('the rig’s own stretch', () => {
  const travel = { name: 'nut', kind: 'travel' as const, unit: 'mm', values: Float64Array.of(0, 1, 2) }
  test('travel gives an extension less force/stiffness, and stays itself', () => {
    const { recording } = applied(
      recordingOf([0, 50, 100], { channels: [travel] }),
      rigOf({ stiffness: { nPerMm: 100 } }),
    )
    expect(recording.channels.map(c => c.kind)).toEqual(['travel', 'extension'])
    expect(Array.from(recording.channels[1]!.values)).toEqual([0, 0.5, 1])
  })
  test('an extension measured on the specimen is left alone', () => {
    const channel = { ...travel, kind: 'extension' as const }
    const given = recordingOf([0, 50, 100], { channels: [channel] })
    const at = (extensionAt: string) =>
      Array.from(
        applied(given, rigOf({ stiffness: { nPerMm: 100 }, extensionAt })).recording.channels[0]!.values,
      )
    expect(at('specimen')).toEqual([0, 1, 2])
    expect(at('drive')).toEqual([0, 0.5, 1])
  })
  test('turns of the drive become mm', () => {
    const turns = { ...travel, kind: 'other' as const, unit: 'turns' }
    const { recording } = applied(
      recordingOf([0, 5, 10], { channels: [turns] }),
      rigOf({ drive: { mmPerTurn: 1.5 } }),
    )
    expect(Array.from(recording.channels[0]!.values)).toEqual([0, 1.5, 3])
  })
})

describe('without calibrating', () => {
  const mass = {
    appliedN: 9.81,
    appliedStandardN: 0.005,
    reading: 69_620,
    zeroReading: 50_000,
    readingStandard: 10,
    readingUnit: 'counts' as const,
    date: '2026-05-03',
  }
  test('one mass gives a scale with a doubt of a per cent and more', () => {
    const outcome = scaleByOneMass(mass)
    if (!outcome.ok) throw new Error('no scale')
    expect(outcome.value.newtonPerReading).toBeCloseTo(0.0005, 9)
    expect(outcome.value.doubtPct).toBeGreaterThan(1)
    expect(outcome.value.doubtPct).toBeLessThan(1.3)
    const { recording, scale, warnings } = applied(counts, rigOf({ calibrations: [outcome.value] }))
    expect(recording.forceN[1]).toBeCloseTo(50, 6)
    expect((1.96 * scaleStandardN(scale!, 50)) / 50).toBeCloseTo(outcome.value.doubtPct / 100, 5)
    expect(warnings.map(w => w.code)).toEqual(['beyond-calibration'])
  })
  test('a mass that does not move the reading', () => {
    expect(scaleByOneMass({ ...mass, reading: 50_020 }).ok).toBe(false)
    expect(scaleByOneMass({ ...mass, appliedN: 0 }).ok).toBe(false)
  })
  test('a typed doubt changes no force', () => {
    const outcome = scaleByTypedDoubt('kgf', 2, '2026-05-03')
    if (!outcome.ok) throw new Error('no scale')
    const { recording, scale } = applied(
      recordingOf([0, 50], { unit: 'kgf' }),
      rigOf({ calibrations: [outcome.value] }),
    )
    expect(recording.forceN[1]).toBeCloseTo(50, 12)
    expect(1.96 * scaleStandardN(scale!, 50)).toBeCloseTo(1, 4)
    expect(scaleByTypedDoubt('counts', 2, '2026-05-03').ok).toBe(false)
  })
})

describe('the rig file', () => {
  test('every fault is told with its field', () => {
    const outcome = parseRig('{"cell": {"capacityN": -5}, "strokMm": 3}', 'rig.json')
    const told = outcome.ok ? [] : outcome.problems.map(p => p.where)
    expect(told.some(w => w.includes('cell.capacityN'))).toBe(true)
    expect(outcome.ok ? '' : outcome.problems.map(p => p.what).join(' ')).toContain('strokMm')
  })
  test('not JSON, and shares the wrong way round', () => {
    expect(parseRig('{', 'rig.json').ok).toBe(false)
    expect(parseRig('{"limits": {"nearShare": 1.2}}', 'rig.json').ok).toBe(false)
  })
  test('an empty object is a rig of which nothing is known', () => {
    const outcome = parseRig('{}', 'rig.json')
    expect(outcome.ok && outcome.value).toMatchObject({ calibrations: [], limits: { calibrationDays: 365 } })
  })
  test('gravity by place, typed, or unknown', () => {
    expect(gravityOf(rigOf({ gravity: { latitudeDeg: 45 } })).ms2).toBeCloseTo(9.80619776937, 9)
    expect(gravityOf(rigOf({ gravity: { ms2: 9.81 } })).from).toBe('typed')
    expect(gravityOf(rigOf({})).from).toBe('unknown')
  })
  test('the sign of tension: a calibration knows, else the rig says, else the log reader finds out', () => {
    expect(tensionOf(rigOf({ sign: -1 }))).toBe('negative')
    expect(tensionOf(rigOf({ sign: 1 }))).toBe('positive')
    expect(tensionOf(rigOf({}))).toBeUndefined()
    expect(tensionOf(rigOf({ sign: -1, calibrations: [calibrated('2026-05-03')] }))).toBe('positive')
  })
})
