import { expect, test } from 'vitest'
import type { Drop } from '../../../src/core/reading/measureDrop.ts'
import { keepsItsStrength, withoutStickSlip } from '../../../src/core/reading/stickSlip.ts'

/** A drop from a force, by a share of it, after a loading of so many newtons a second. */
const drop = (beforeN: number, share: number, slopeNPerS: number, change: Partial<Drop> = {}): Drop => ({
  ...{ pull: 0, from: 0, to: 1, atS: 0, beforeN, lowN: beforeN, highN: beforeN, share, shareStandard: 0.01 },
  afterN: beforeN * (1 - share),
  before: { atS: 0, levelN: beforeN, slopeNPerS, n: 10, spreadS2: 1, residualN2: 0 },
  after: { atS: 0, levelN: beforeN, slopeNPerS, n: 10, spreadS2: 1, residualN2: 0 },
  ...{
    readingN: 0.1,
    cut: false,
    leavesNothing: false,
    clearness: 5,
    ratio: 10,
    amongTeeth: false,
    stops: false,
  },
  ...change,
})

const sevenTimes = <T>(make: (k: number) => T): T[] => Array.from({ length: 7 }, (_, k) => make(k))

/** Elements of one strength: what is left carries less, and gives more. */
const bundle = sevenTimes(k => drop(100 * 0.8 ** k, 0.2, 50 * 0.8 ** k))
/** Holds and slips: comes back to the same force at the same slope. */
const slipping = sevenTimes(k => drop(100 + k, 0.2, 50))

test('counts for each drop what it says of strength and stiffness', () => {
  // Whole losses are 0, l, … 6 l with l = −ln 0.8: their distances from the median are 12 l, in spreads of 0.3.
  const expected = (12 * -Math.log(0.8)) / 0.3
  expect(keepsItsStrength(sevenTimes(() => drop(100, 0.2, 0)))).toBeCloseTo(expected, 9)
  expect(keepsItsStrength(sevenTimes(() => drop(100, 0.2, 50)))).toBeCloseTo(2 * expected, 9)
  expect(keepsItsStrength(bundle)).toBeCloseTo(-2 * expected, 9)
})

test('two drops say nothing, and no drop says more than 3 nat for force or slope', () => {
  expect(keepsItsStrength(slipping.slice(0, 2))).toBe(0)
  const all = sevenTimes(() => drop(100, 0.97, 50))
  expect(keepsItsStrength(all)).toBeCloseTo(2 * 6 * 3, 9)
})

test('takes a stick-slip out, leaves a bundle, the end, and what is far larger', () => {
  const end = drop(100, 1, 50, { leavesNothing: true })
  expect(withoutStickSlip([...slipping, end], null)).toEqual([end])
  expect(withoutStickSlip([...bundle, end], null)).toEqual([...bundle, end])
  const great = drop(100, 0.7, 50)
  expect(withoutStickSlip([...slipping, great, end], null)).toEqual([great, end])
})

test('as many drops as the specimen has elements may be theirs', () => {
  expect(withoutStickSlip(slipping, 7)).toEqual(slipping)
  expect(withoutStickSlip(slipping, 6)).toEqual([])
})

test('each pull is judged by itself', () => {
  const later = bundle.map(d => ({ ...d, pull: 1 }))
  expect(withoutStickSlip([...slipping, ...later], null)).toEqual(later)
})
