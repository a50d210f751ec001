import { writeFileSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { parseRig } from '../../../src/core/calibration/rig.ts'
import { gravityOf } from '../../../src/core/calibration/rigFacts.ts'
import { calibrateNow, isEnough, type TakenPoint } from '../../../src/web/rig/calibration/calibrateNow.ts'
import {
  type Progress,
  progressFrom,
  withoutLast,
  withPointToggled,
  withReading,
} from '../../../src/web/rig/calibration/progress.ts'
import { stepsFor } from '../../../src/web/rig/calibration/steps.ts'
import { checkNow, isCheckedOn, localDay } from '../../../src/web/rig/check/checkNow.ts'
import { houseMassesFrom, massMap } from '../../../src/web/rig/masses/masses.ts'
import { ran } from '../../cli/fakeIo.ts'
import { good } from '../../store/stores.ts'

const references = {
  'water jug': { kind: 'weighed', kg: 1.043, scaleErrorKg: 0.001 },
  brick: { kind: 'weighed', kg: 2.306, scaleErrorKg: 0.002 },
}
const masses = massMap(houseMassesFrom({ references }))
const rigText = JSON.stringify({ name: 'nut rig', gravity: { latitudeDeg: 52.1, heightM: 30 } })
const rig = good(parseRig(rigText, 'rig'))

/** 1,000 counts a newton from 50,000 on, a little more on the way down. */
const readingOf = (hang: readonly string[], direction: 'up' | 'down'): string => {
  const kg = hang.reduce((sum, name) => sum + masses.get(name)!.kg, 0)
  return (50_012 + 1000 * 9.8124 * kg + (direction === 'down' ? 9 : 0)).toFixed(0)
}
const points: TakenPoint[] = stepsFor([...masses.values()]).map(step => ({
  ...step,
  reading: readingOf(step.hang, step.direction),
}))

let folder = ''
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-rig-'))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

test('two masses hang alone and together, up and down', () => {
  expect(
    stepsFor([...masses.values()]).map(({ hang, direction }) => `${hang.join(' + ') || '–'} ${direction}`),
  ).toEqual([
    '– up',
    'water jug up',
    'brick up',
    'water jug + brick up',
    'brick down',
    'water jug down',
    '– down',
  ])
  expect(stepsFor([])).toEqual([])
})

test('of many masses one is added at a time; loads that are as good as equal are hung once', () => {
  const like = (name: string, kg: number) => ({ name, kg, standardKg: null, densityKgM3: null, text: '' })
  const many = ['a', 'b', 'c', 'd'].map((name, i) => like(name, 1 + i))
  expect(stepsFor(many).filter(({ direction }) => direction === 'up')).toHaveLength(5)
  expect(stepsFor([like('a', 1), like('b', 1.001)]).map(({ hang }) => hang.length)).toEqual([0, 1, 2, 1, 0])
})

test('is the document of the command line, to the last digit', async () => {
  const table = [
    'stack,reading (counts),direction,cycle',
    ...points.map(({ hang, reading, direction, cycle }) =>
      [hang.join(' + ') || '0', reading, direction, cycle].join(','),
    ),
  ].join('\n')
  writeFileSync(join(folder, 'points.csv'), table)
  writeFileSync(join(folder, 'home.json'), JSON.stringify({ references }))
  writeFileSync(join(folder, 'rig.json'), rigText)
  const words = [
    '--references',
    join(folder, 'home.json'),
    '--rig',
    join(folder, 'rig.json'),
    '--date',
    '2026-05-03',
  ]
  const told = await ran(['calibrate', join(folder, 'points.csv'), '--json', ...words])
  const made = calibrateNow({
    name: 'points.csv',
    points,
    masses,
    gravity: gravityOf(rig),
    readingUnit: 'counts',
    resolution: null,
    leaveOut: [],
    date: '2026-05-03',
  })
  expect(told.code, told.err).toBe(0)
  expect(good(made)).toEqual(JSON.parse(told.out))
  // By hand: 1 kg at 52.1° and 30 m weighs 9.8124 N, so a count is a thousandth of a newton.
  expect(good(made).coefficients[1]).toBeCloseTo(0.001, 6)
})

test('a point left out is told but not fitted; too few points are no calibration', () => {
  const given = {
    name: 'p',
    masses,
    gravity: gravityOf(rig),
    readingUnit: 'counts' as const,
    resolution: null,
    date: '2026-05-03',
  }
  const made = good(calibrateNow({ ...given, points, leaveOut: [7] }))
  expect(made.points.map(({ used }) => used)).toEqual([true, true, true, true, true, true, false])
  expect(isEnough(points)).toBe(true)
  expect(isEnough(points.slice(0, 2))).toBe(false)
  expect(isEnough([points[0]!, points[1]!, points[5]!])).toBe(false)
  expect(calibrateNow({ ...given, points: points.slice(0, 2), leaveOut: [] }).ok).toBe(false)
})

test('a check is judged as the command line judges it', async () => {
  const calibration = good(
    calibrateNow({
      name: 'p',
      points,
      masses,
      gravity: gravityOf(rig),
      readingUnit: 'counts',
      resolution: null,
      leaveOut: [],
      date: '2026-05-03',
    }),
  )
  const calibrated = JSON.stringify({ ...JSON.parse(rigText), calibrations: [calibration] })
  writeFileSync(join(folder, 'calibrated.json'), calibrated)
  const at = '2026-05-04T08:00:00.000Z'
  const words = ['--rig', join(folder, 'calibrated.json'), '--mass', '1.043kg', '--mass-tolerance', '1g']
  const told = await ran([
    'check',
    ...words,
    '--reading',
    '60300',
    '--zero',
    '50012',
    '--at',
    at,
    '--dry-run',
    '--json',
  ])
  const half = 0.5 / Math.sqrt(3)
  const judged = good(
    checkNow({
      rig: good(parseRig(calibrated, 'rig')),
      earlier: [],
      mass: masses.get('water jug')!,
      empty: { value: 50_012, standard: half },
      loaded: { value: 60_300, standard: half },
      readingUnit: 'counts',
      greatestN: null,
      at,
    }),
  )
  const document = JSON.parse(told.out)
  for (const key of ['appliedN', 'appliedStandardN', 'indicatedN', 'indicatedStandardN', 'zeroN'] as const)
    expect(judged.check[key], key).toBeCloseTo(document[key], 10)
  expect(judged.check.verdict).toBe(document.verdict)
  expect(judged.check.findings).toEqual(document.findings)
  const uncalibrated = {
    rig,
    earlier: [],
    mass: masses.get('brick')!,
    empty: { value: 0, standard: 1 },
    loaded: { value: 1, standard: 1 },
  }
  expect(checkNow({ ...uncalibrated, readingUnit: 'counts', greatestN: null, at }).ok).toBe(false)
})

test('a calibration in the making survives a reload and can be taken back point by point', () => {
  const begun: Progress = {
    rigId: 'r',
    readingUnit: 'counts',
    resolution: null,
    toDo: stepsFor([...masses.values()]),
    points: [],
    leaveOut: [],
  }
  const two = withReading(withReading(begun, '50012', null), '60250', 1)
  expect(two.points.map(({ reading }) => reading)).toEqual(['50012', '60250'])
  expect(progressFrom(JSON.stringify(two), 'r')).toEqual(two)
  expect(progressFrom(JSON.stringify(two), 'another rig')).toBeNull()
  expect(progressFrom('{"rigId":"r"}', 'r')).toBeNull()
  expect(progressFrom('no JSON', 'r')).toBeNull()
  const left = withPointToggled(two, 2)
  expect(left.leaveOut).toEqual([2])
  expect(withPointToggled(left, 2).leaveOut).toEqual([])
  const back = withoutLast(left)
  expect(back).toMatchObject({ leaveOut: [], toDo: two.toDo.length === 5 ? expect.any(Array) : [] })
  expect(withoutLast(back)).toEqual({ ...begun, resolution: 1 })
})

test('a day is that of this place', () => {
  const check = { at: new Date(2026, 4, 3, 23, 59).toISOString() } as Parameters<
    typeof isCheckedOn
  >[0][number]
  expect(isCheckedOn([check], '2026-05-03')).toBe(true)
  expect(isCheckedOn([check], '2026-05-04')).toBe(false)
  expect(localDay(new Date(2026, 0, 2))).toBe('2026-01-02')
})
