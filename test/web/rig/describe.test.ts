import { expect, test } from 'vitest'
import { DEMO } from '../../../src/capture/pretend/demoFacts.ts'
import { parseRig } from '../../../src/core/calibration/rig.ts'
import type { Rig } from '../../../src/server/apiTypes.ts'
import { figureIn, knownOf, LINKS, withFigure } from '../../../src/web/rig/chain/links.ts'
import { houseMassesFrom } from '../../../src/web/rig/masses/masses.ts'
import { BLANK_MASS, massFrom } from '../../../src/web/rig/masses/massForm.ts'
import { type RigState, rigNext } from '../../../src/web/rig/rigNext.ts'
import { benchChoiceFrom, chosenRig } from '../../../src/web/rig/useBenchRig.ts'
import { good } from '../../store/stores.ts'

const settled: RigState = {
  isDescribed: true,
  masses: 2,
  isCalibrated: true,
  isCheckedToday: true,
  lastVerdict: 'within',
}

test.each<[string, Partial<RigState>]>([
  ['describe', { isDescribed: false, isCalibrated: false }],
  ['masses', { isCalibrated: false, masses: 1 }],
  ['calibrate', { isCalibrated: false }],
  ['off', { lastVerdict: 'out' }],
  ['check', { isCheckedToday: false }],
  ['check', { isCheckedToday: false, lastVerdict: 'out' }],
  ['masses', { isCheckedToday: false, masses: 0 }],
  ['pull', {}],
])('%s', (next, given) => {
  expect(rigNext({ ...settled, ...given })).toBe(next)
})

test('figures are put into the document and taken out of it, and it keeps to the schema', () => {
  let document: unknown = { name: 'nut rig', note: 'kept' }
  document = withFigure(document, 'capacityN', 500)
  document = withFigure(document, 'strokeMm', 60)
  document = withFigure(document, 'latitudeDeg', 52.1)
  expect(document).toEqual({
    name: 'nut rig',
    note: 'kept',
    cell: { capacityN: 500 },
    strokeMm: 60,
    gravity: { latitudeDeg: 52.1 },
  })
  const rig = good(parseRig(JSON.stringify(document), 'rig'))
  expect(knownOf(rig, 'cell')).toEqual(['500 N'])
  expect(knownOf(rig, 'place')[0]).toMatch(/^9\.81\d+ m\/s²$/)
  expect(knownOf(rig, 'converter')).toEqual([])
  for (const link of LINKS) expect(Array.isArray(knownOf(rig, link))).toBe(true)
  expect(figureIn(document, 'strokeMm')).toBe(60)
  expect(figureIn(document, 'rateHz')).toBeNull()
  const without = withFigure(
    withFigure(withFigure(document, 'capacityN', null), 'strokeMm', null),
    'latitudeDeg',
    null,
  )
  expect(without).toEqual({ name: 'nut rig', note: 'kept' })
})

test('a latitude takes the stead of a gravity that was typed', () => {
  expect(withFigure({ gravity: { ms2: 9.81 } }, 'latitudeDeg', 40)).toEqual({ gravity: { latitudeDeg: 40 } })
})

test('a mass that was weighed, bought, filled or counted', () => {
  const none = new Set<string>()
  const weighed = massFrom({ ...BLANK_MASS, name: 'jug', kg: '1,043', limitG: '1' }, none)
  expect(weighed).toMatchObject({ reference: { kind: 'weighed', kg: 1.043, scaleErrorKg: 0.001 } })
  const bought = massFrom({ ...BLANK_MASS, kind: 'weight', name: 'plate', kg: '5' }, none)
  expect(bought).toMatchObject({ mass: { kg: 5, standardKg: null } })
  // 1 l at 20 °C: 998.2 g (CIPM, Metrologia 38 (2001) 301).
  const water = massFrom({ ...BLANK_MASS, kind: 'water', name: 'water', litres: '1' }, none)
  expect('mass' in water && water.mass.kg).toBeCloseTo(0.9982, 4)
  const coins = massFrom({ ...BLANK_MASS, kind: 'coins', name: 'coins', count: '40', eachG: '7.5' }, none)
  expect('mass' in coins && coins.mass.kg).toBeCloseTo(0.3, 12)
})

test.each([
  [{ name: '', kg: '1', limitG: '1' }, ['name']],
  [{ name: 'jug', kg: '1', limitG: '1' }, ['name']],
  [{ name: 'a + b', kg: '1', limitG: '1' }, ['name']],
  [{ name: 'x', kg: 'one', limitG: '' }, ['kg', 'limitG']],
])('what is not right in a mass is named: %o', (form, faults) => {
  expect(massFrom({ ...BLANK_MASS, ...form }, new Set(['jug']))).toEqual({ faults })
})

test('rubbish in the settings is no mass and no choice', () => {
  expect(houseMassesFrom(undefined)).toEqual({})
  expect(houseMassesFrom({ references: { a: { kind: 'magic' } } })).toEqual({})
  expect(benchChoiceFrom('x')).toEqual({ rigId: null, checkMass: null })
})

test('the rig on the bench is the one chosen, else the one changed last', () => {
  const rig = (id: string, updatedAt: string) => ({ id, updatedAt }) as Rig
  const rigs = [rig('a', '2026-01-01'), rig('b', '2026-02-01')]
  expect(chosenRig(rigs, 'a')?.id).toBe('a')
  expect(chosenRig(rigs, 'gone')?.id).toBe('b')
  expect(chosenRig([], null)).toBeNull()
})

test('the invented rig of the demo stands on no bench but that of the demo, unless it is chosen', () => {
  const invented = { id: 'demo', name: DEMO.rigName, updatedAt: '2026-03-01' } as Rig
  const own = { id: 'own', name: 'bench', updatedAt: '2026-01-01' } as Rig
  expect(chosenRig([invented, own], null)?.id).toBe('own')
  expect(chosenRig([invented], null)).toBeNull()
  expect(chosenRig([invented, own], null, true)?.id).toBe('demo')
  expect(chosenRig([own], null, true)?.id).toBe('own')
  expect(chosenRig([invented, own], 'demo')?.id).toBe('demo')
})
