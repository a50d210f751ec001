import fc from 'fast-check'
import { expect, test } from 'vitest'
import { FORCE_UNITS, fromNewton, parseForceUnit, toNewton } from '../../../src/core/units/force.ts'

// NIST SP 811 (2008), appendix B.8, factors for units of force; exact ones written out in full.
const PUBLISHED: readonly [unit: (typeof FORCE_UNITS)[number], newton: number][] = [
  ['kgf', 9.80665],
  ['gf', 0.00980665],
  ['lbf', 4.4482216152605],
  ['ozf', 0.2780138509537812],
  ['kip', 4448.2216152605],
  ['tf', 9806.65],
  ['kN', 1000],
  ['mN', 0.001],
  ['N', 1],
]

test.each(PUBLISHED)('one %s is %d N', (unit, newton) => {
  expect(Math.abs(toNewton(1, unit) / newton - 1)).toBeLessThan(1e-15)
})

test('every unit has a published value beside it', () => {
  expect(PUBLISHED.map(([unit]) => unit).sort()).toEqual([...FORCE_UNITS].sort())
})

test.each([
  ['N', 'N'],
  ['[N]', 'N'],
  ['(kN)', 'kN'],
  ['kn', 'kN'],
  ['mN', 'mN'],
  ['MN', null],
  ['kg', 'kgf'],
  ['kg-f', 'kgf'],
  ['KGF', 'kgf'],
  ['Kilogram Force', 'kgf'],
  ['lbs.', 'lbf'],
  ['lb_f', 'lbf'],
  ['g', 'gf'],
  ['oz', 'ozf'],
  ['t', 'tf'],
  ['raw', 'counts'],
  ['furlong', null],
  ['', null],
] as const)('“%s” names %s', (word, unit) => expect(parseForceUnit(word)).toBe(unit))

test('a force comes back from any unit', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -1e9, max: 1e9, noNaN: true }),
      fc.constantFrom(...FORCE_UNITS),
      (forceN, unit) => {
        expect(toNewton(fromNewton(forceN, unit), unit)).toBeCloseTo(forceN, 5)
      },
    ),
    { seed: 3 },
  )
})
