import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { PeakForce } from '../../../src/core/reading/document.ts'
import { gravityAt, typedGravity, UNKNOWN_GRAVITY } from '../../../src/core/units/gravity.ts'
import { type DoubtedForce, sayForce, sayPeak } from '../../../src/publish/equivalents/equivalent.ts'
import { counted, usualPlural } from '../../../src/publish/equivalents/plural.ts'
import { equivalentWords } from '../../../src/publish/equivalents/words.ts'

const CARTON = { name: '1-litre milk carton', plural: '1-litre milk cartons', massKg: 1.07 }
const BRICK = { name: 'house brick', plural: '', massKg: 2.3 }
const HERE = typedGravity(9.81, 0.005)

const peak = (given: Partial<PeakForce>): PeakForce => ({
  status: 'measured',
  zero: 'seen',
  zeroAlternatives: null,
  valueN: 94.5,
  uncertaintyN: 2,
  lowN: null,
  highN: null,
  covers: [],
  atS: 3,
  indicatedN: 94,
  ...given,
})
const said = (given: Partial<PeakForce>, list = [CARTON]): string | null =>
  equivalentWords(sayPeak(peak(given), list, HERE))

describe('what is said of a peak', () => {
  // 9 × 1.07 kg × 9.81 m/s² = 94.47 N
  test('a count within the doubt is “about”', () => expect(said({})).toBe('about nine 1-litre milk cartons'))
  test('between two counts with a small doubt it is “between”', () =>
    expect(said({ valueN: 89, uncertaintyN: 1 })).toBe('between eight and nine 1-litre milk cartons'))
  test('another weight is taken where it meets the force', () =>
    // 4 × 2.3 kg × 9.81 m/s² = 90.25 N
    expect(said({ valueN: 90, uncertaintyN: 1 }, [CARTON, BRICK])).toBe('about four house bricks'))
  test('one is singular', () =>
    expect(said({ valueN: 22.6, uncertaintyN: 0.5 }, [BRICK])).toBe('about one house brick'))
  test('less than one', () =>
    expect(said({ valueN: 5, uncertaintyN: 0.1 })).toBe('less than one 1-litre milk carton'))
  test('large counts are rounded as far as the doubt allows', () => {
    // 134 cartons: 1406.6 N
    expect(said({ valueN: 1406.6, uncertaintyN: 60 })).toBe('about 130 1-litre milk cartons')
    expect(said({ valueN: 1406.6, uncertaintyN: 12 })).toBe('about 135 1-litre milk cartons')
    expect(said({ valueN: 1406.6, uncertaintyN: 2 })).toBe('about 134 1-litre milk cartons')
  })
  test('a lopsided interval counts by its own ends', () =>
    expect(said({ valueN: 92, lowN: 91.9, highN: 95 })).toBe('about nine 1-litre milk cartons'))
  test('at least: the count that was certainly reached', () =>
    expect(said({ status: 'at-least', valueN: 100, lowN: 94, uncertaintyN: null })).toBe(
      'at least eight 1-litre milk cartons',
    ))
  test('not reached: what it carried', () =>
    expect(said({ status: 'not-reached', valueN: 96, uncertaintyN: 0.5 })).toBe(
      'carried nine 1-litre milk cartons and did not break',
    ))
  test.each([
    ['not recorded', { status: 'not-recorded', valueN: null }, [CARTON]],
    ['no known doubt', { uncertaintyN: null }, [CARTON]],
    ['no weights', {}, []],
    ['at least less than one of them', { status: 'at-least', valueN: 3 }, [CARTON]],
    ['not told from nothing', { valueN: 1, uncertaintyN: 2 }, [CARTON]],
    ['far beyond what can be pictured', { valueN: 1e6, uncertaintyN: 1 }, [CARTON]],
  ] as const)('%s: nothing, and why', (_, given, list) => {
    const saying = sayPeak(peak(given), list, HERE)
    expect(equivalentWords(saying)).toBeNull()
    expect(saying.kind === 'none' && saying.why).toMatch(/\.$/)
  })
})

test('the gravity of the place counts: ten bricks at the pole, not at the equator', () => {
  const brick = { name: 'brick', plural: '', massKg: 1 }
  const force = { valueN: 98.32, lowN: 98.3, highN: 98.34 }
  const words = (ms2: number) => equivalentWords(sayForce(force, [brick], typedGravity(ms2, 0)))
  expect(words(9.832)).toBe('about ten bricks')
  expect(words(9.78)).toBe('between ten and eleven bricks')
  // Where the place is not known its doubt is in what is said.
  const sharp = { valueN: 98.1, lowN: 98.099, highN: 98.101 }
  expect(equivalentWords(sayForce(sharp, [brick], UNKNOWN_GRAVITY))).toBe('about ten bricks')
})

test('a plural of its own is kept, else the usual one', () => {
  expect(counted(2, { name: 'goose', plural: 'geese' })).toBe('two geese')
  expect(['brick', 'box', 'dish', 'dairy', 'tray', 'bench'].map(usualPlural)).toEqual([
    'bricks',
    'boxes',
    'dishes',
    'dairies',
    'trays',
    'benches',
  ])
})

const weights = fc.array(
  fc.record({
    name: fc.constantFrom('brick', 'carton', 'cat'),
    plural: fc.constantFrom('', 'bricks'),
    massKg: fc.double({ min: 0.001, max: 500, noNaN: true }),
  }),
  { maxLength: 6 },
)
const forces = fc
  .tuple(
    fc.double({ min: 0.01, max: 20_000, noNaN: true }),
    fc.double({ min: 0, max: 0.5, noNaN: true }),
    fc.double({ min: 0, max: 0.5, noNaN: true }),
  )
  .map(
    ([valueN, below, above]): DoubtedForce => ({
      valueN,
      lowN: valueN * (1 - below),
      highN: valueN * (1 + above),
    }),
  )
const gravities = fc.constantFrom(HERE, UNKNOWN_GRAVITY, gravityAt(52, 30), typedGravity(9.80665, 0))
/** A little more than the rounding that the counts allow for. */
const SLACK = 1e-6

describe('properties', () => {
  test('whatever is said is true within the doubt of force and gravity', () => {
    fc.assert(
      fc.property(forces, weights, gravities, (force, list, gravity) => {
        const saying = sayForce(force, list, gravity)
        if (saying.kind === 'none') return
        const low = force.lowN / (saying.of.massKg * (gravity.ms2 + gravity.halfWidthMs2))
        const high = force.highN / (saying.of.massKg * (gravity.ms2 - gravity.halfWidthMs2))
        if (saying.kind === 'about') {
          expect(Number.isInteger(saying.count) && saying.count >= 1).toBe(true)
          expect(saying.count).toBeGreaterThanOrEqual(low - SLACK)
          expect(saying.count).toBeLessThanOrEqual(high + SLACK)
        } else if (saying.kind === 'between') {
          expect(saying.from).toBeLessThanOrEqual(low)
          expect(saying.to).toBeGreaterThanOrEqual(high)
          expect(saying.from).toBeLessThan(saying.to)
        } else expect(high).toBeLessThan(1)
      }),
      { numRuns: 2_000 },
    )
  })
  test('“at least” is never more than the low end', () => {
    fc.assert(
      fc.property(forces, weights, gravities, fc.boolean(), ({ valueN, lowN }, list, gravity, held) => {
        const status = held ? 'not-reached' : 'at-least'
        const saying = sayPeak(peak({ status, valueN, lowN, highN: null }), list, gravity)
        if (saying.kind !== 'at-least') expect(saying.kind).toBe('none')
        else expect(saying.count * saying.of.massKg * gravity.ms2).toBeLessThanOrEqual(lowN * (1 + SLACK))
      }),
    )
  })
  test('more doubt never turns “about” into nothing', () => {
    fc.assert(
      fc.property(forces, weights, gravities, (force, list, gravity) => {
        if (sayForce(force, list, gravity).kind !== 'about') return
        const wider = { ...force, lowN: force.lowN * 0.99, highN: force.highN * 1.01 }
        expect(sayForce(wider, list, gravity).kind).not.toBe('none')
      }),
    )
  })
})
