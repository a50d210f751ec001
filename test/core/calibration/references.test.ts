import { describe, expect, test } from 'vitest'
import { COIN_GRAMS, COIN_SHARE } from '../../../src/core/calibration/coins.ts'
import { type Mass, massOf, stackOf } from '../../../src/core/calibration/references.ts'
import { type Reference, referencesSchema } from '../../../src/core/calibration/referencesDocument.ts'
import { waterDensityKgM3 } from '../../../src/core/calibration/water.ts'
import { permissibleErrorKg } from '../../../src/core/calibration/weightTolerance.ts'

const mass = (reference: Reference): Mass => {
  const outcome = massOf('it', reference)
  if (!outcome.ok) throw new Error(outcome.problems[0]?.what)
  return outcome.value
}

describe('density of water (Tanaka and others 2001, table values; from memory)', () => {
  for (const [t, density] of [
    [0, 999.8428],
    [4, 999.9749],
    [10, 999.7025],
    [20, 998.2067],
    [25, 997.047],
    [30, 995.6488],
    [40, 992.2152],
  ] as const)
    test(`${t} °C`, () => expect(Math.abs(waterDensityKgM3(t) - density)).toBeLessThan(0.0006))
  test('outside 0 to 40 °C it is not known here', () => {
    expect(() => waterDensityKgM3(41)).toThrow(RangeError)
    expect(() => waterDensityKgM3(Number.NaN)).toThrow(RangeError)
  })
})

describe('bought weights (OIML R 111-1, table 1)', () => {
  for (const [kg, weightClass, mg] of [
    [1, 'F1', 5],
    [1, 'F2', 16],
    [1, 'M1', 50],
    [1, 'M2', 160],
    [1, 'M3', 500],
    [0.02, 'M1', 2.5],
    [20, 'M3', 10_000],
  ] as const)
    test(`${kg} kg, ${weightClass}: ±${mg} mg`, () =>
      expect(permissibleErrorKg(kg, weightClass)).toBeCloseTo(mg * 1e-6, 12))
  test('no class has a weight of 3 kg', () => {
    expect(permissibleErrorKg(3, 'M1')).toBeNull()
    const outcome = massOf('big', { kind: 'weight', kg: 3, class: 'M1' })
    expect(outcome.ok).toBe(false)
  })
  test('limits count as rectangular', () =>
    expect(mass({ kind: 'weight', kg: 1, class: 'M1' }).standardKg).toBeCloseTo(50e-6 / Math.sqrt(3), 12))
  test('without limits the doubt is not known, not nought', () =>
    expect(mass({ kind: 'weight', kg: 1 }).standardKg).toBeNull())
})

test('a litre of water: mass by density, doubt by the mark', () => {
  const found = mass({ kind: 'water', litres: 1, litresLimit: 0.005, temperatureC: 20, temperatureLimitC: 2 })
  expect(found.kg).toBeCloseTo(0.9982067, 6)
  expect(found.standardKg! / (0.005 / Math.sqrt(3))).toBeCloseTo(1, 1)
  expect(found.densityKgM3).toBeCloseTo(998.2067, 3)
})

test('forty coins of 1 euro', () => {
  const found = mass({ kind: 'coins', count: 40, coin: '1 euro' })
  expect(found.kg).toBeCloseTo(0.3, 12)
  expect(found.standardKg).toBeCloseTo((0.3 * 0.02) / Math.sqrt(3), 12)
  expect(massOf('x', { kind: 'coins', count: 3 }).ok).toBe(false)
})

describe('a stack', () => {
  const masses = new Map([
    ['jug', mass({ kind: 'weighed', kg: 0.2, scaleErrorKg: 0.001 })],
    ['plate 2', mass({ kind: 'weighed', kg: 2, scaleErrorKg: 0.005 })],
  ])
  test('names joined by +', () => {
    const outcome = stackOf('jug + plate 2', masses, 'p.csv, line 3')
    expect(outcome.ok && outcome.value.map(m => m.kg)).toEqual([0.2, 2])
  })
  test('an unknown name and one that hangs twice are told', () => {
    const outcome = stackOf('jug + pot + jug', masses, 'p.csv, line 3')
    expect(outcome.ok ? [] : outcome.problems.map(p => p.what)).toEqual([
      'no reference is called “pot”.',
      '“jug” hangs twice in one stack.',
    ])
  })
})

test('the file of references: a slip in a key is an error, defaults are filled in', () => {
  expect(
    referencesSchema.safeParse({ references: { a: { kind: 'weight', kg: 1, clas: 'M1' } } }).success,
  ).toBe(false)
  const parsed = referencesSchema.parse({
    references: { w: { kind: 'water', litres: 1, litresLimit: 0.01, temperatureC: 20 } },
  })
  expect(parsed.references.w).toMatchObject({ temperatureLimitC: 2 })
})

test('a roll of each coin has the mass that its issuer lays down', () => {
  // Council Regulation (EU) No 729/2014, annex I, masses in grams; read from memory.
  const grams = {
    '1 cent': 2.3,
    '2 cent': 3.06,
    '5 cent': 3.92,
    '10 cent': 4.1,
    '20 cent': 5.74,
    '50 cent': 7.8,
    '1 euro': 7.5,
    '2 euro': 8.5,
  }
  expect(COIN_GRAMS).toEqual(grams)
  expect(COIN_SHARE).toBe(0.02)
})
