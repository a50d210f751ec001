import { describe, expect, test } from 'vitest'
import { type AppliedOptions, applyLoads } from '../../../src/core/calibration/applied.ts'
import { sweepsOf } from '../../../src/core/calibration/points.ts'
import {
  type PointsTable,
  type PointsTableOptions,
  parseLoadUnit,
  readPointRows,
} from '../../../src/core/calibration/pointsTable.ts'
import { gravityAt, UNKNOWN_GRAVITY } from '../../../src/core/units/gravity.ts'

const table = (header: string | null, ...lines: string[]): PointsTable => ({
  name: 'p.csv',
  header: header === null ? null : header.split(';'),
  rows: lines.map((text, i) => ({ line: i + 2, cells: text.split(';') })),
})

const rowsOf = (given: PointsTable, options?: PointsTableOptions) => {
  const outcome = readPointRows(given, options)
  if (!outcome.ok) throw new Error(outcome.problems.map(p => `${p.where}: ${p.what}`).join('\n'))
  return outcome.value
}

const problemsOf = (given: PointsTable, options?: PointsTableOptions) => {
  const outcome = readPointRows(given, options)
  return outcome.ok ? [] : outcome.problems.map(p => `${p.where}: ${p.what}`)
}

const forces = (given: PointsTable, options: Partial<AppliedOptions> = {}) => {
  const outcome = applyLoads('p.csv', rowsOf(given).rows, { gravity: gravityAt(52, 34), ...options })
  if (!outcome.ok) throw new Error(outcome.problems.map(p => `${p.where}: ${p.what}`).join('\n'))
  return outcome.value
}

describe('a points file', () => {
  for (const [header, kind, factor] of [
    ['mass (kg);reading (counts)', 'mass', 1],
    ['mass_g;counts', 'mass', 0.001],
    ['applied [N];reading', 'force', 1],
    ['appliedN;reading', 'force', 1],
    ['Force, lbf;Indicated, kgf', 'force', 4.448_221_615_260_5],
    ['load kgf;raw', 'force', 9.80665],
  ] as const)
    test(`header “${header}”`, () => {
      const { rows } = rowsOf(table(header, '1;2000'))
      expect(rows[0]?.loadUnit?.kind).toBe(kind)
      expect(rows[0]?.loadUnit?.factor).toBeCloseTo(factor, 12)
    })
  test('kilogram is a mass, kilogram-force a force', () => {
    expect(parseLoadUnit('kg')?.kind).toBe('mass')
    expect(parseLoadUnit('kgf')?.kind).toBe('force')
    expect(parseLoadUnit('counts')).toBeNull()
    expect(parseLoadUnit('MN')).toBeNull()
  })
  test('direction, cycle, tolerance in per cent and decimal commas', () => {
    const { rows } = rowsOf(
      table('mass (kg);reading (kgf);direction;cycle;tolerance', '1,5;1,49;down;2;0,5 %', '1;1;Up;1;0.01'),
    )
    expect(rows[0]).toMatchObject({ load: 1.5, reading: 1.49, direction: 'down', cycle: 2 })
    expect(rows[0]?.tolerance).toBeCloseTo(0.0075, 12)
    expect(rows[1]?.tolerance).toBe(0.01)
  })
  test('units in the cells are converted row by row, and said', () => {
    const { rows, warnings } = rowsOf(table('mass;reading (counts)', '500 g;1', '1 kg;2'))
    expect(rows.map(r => r.load! * r.loadUnit!.factor)).toEqual([0.5, 1])
    expect(warnings.map(w => w.code)).toContain('units-mixed')
  })
  test('without header: load, then reading, with the units assumed and said', () => {
    const { rows, readingUnit, warnings } = rowsOf(table(null, '10;2000', '20;4000'))
    expect(rows.map(r => r.reading)).toEqual([2000, 4000])
    expect(readingUnit).toBe('counts')
    expect(warnings.map(w => w.code)).toEqual(['unit-assumed', 'reading-unit-assumed'])
  })
  test('every fault is told with its line', () => {
    expect(
      problemsOf(
        table(
          'mass (kg);reading (counts);direction',
          'x;1;up',
          '2;y;up',
          '-3;1;up',
          '4;1;sideways',
          ';1;up',
          '5;;up',
        ),
      ),
    ).toEqual([
      'p.csv, line 2, load: “x” is not a number.',
      'p.csv, line 3, reading: “y” is not a number.',
      'p.csv, line 4, load: a load of -3 is below zero.',
      'p.csv, line 5, direction: “sideways” is neither up nor down.',
      'p.csv, line 6: the row has no load.',
      'p.csv, line 7: the row has no reading.',
    ])
  })
  test('masses and forces in one column', () =>
    expect(problemsOf(table('load;reading (counts)', '1 kg;1', '20 N;2'))[0]).toContain('some are forces'))
  test('an unknown unit', () => {
    expect(problemsOf(table('mass (stone);reading (counts)', '1;1'))).toHaveLength(1)
    expect(problemsOf(table('mass (kg);reading (volts)', '1;1'))).toHaveLength(1)
  })
  test('no such columns', () => expect(problemsOf(table('a;b', '1;2'))[0]).toContain('no column with'))
})

describe('loads become forces', () => {
  test('mass × local gravity', () => {
    const { points } = forces(table('mass (kg);reading (counts)', '0;0', '1;1', '2;2'))
    expect(points.map(p => p.appliedN)).toEqual([
      0,
      expect.closeTo(9.81236918778, 9),
      expect.closeTo(19.62473837556, 8),
    ])
  })
  test('a force stays what it is, and gravity does not enter', () => {
    const { points, doubts, masses } = forces(table('force (N);reading (counts)', '10;1', '20;2'))
    expect(points.map(p => p.appliedN)).toEqual([10, 20])
    expect(masses).toBe(false)
    expect(doubts).toEqual([])
  })
  test('water floats in air by 0.12 %; steel is left as it is; both can be switched off', () => {
    const water = table('mass (kg);density;reading (counts)', '1;998;1')
    expect(forces(water).points[0]!.appliedN / 9.81236918778).toBeCloseTo(1 - 1.2 / 998, 9)
    expect(forces(water).warnings.map(w => w.code)).toContain('buoyancy-corrected')
    expect(forces(water).warnings.find(w => w.code === 'buoyancy-corrected')?.text).toContain('0.120 %')
    expect(forces(water, { buoyancy: false }).points[0]!.appliedN).toBeCloseTo(9.81236918778, 9)
    const steel = table('mass (kg);density;reading (counts)', '1;8000;1')
    expect(forces(steel).points[0]!.appliedN).toBeCloseTo(9.81236918778, 9)
  })
  test('each cause of doubt moves all its points together', () => {
    const { doubts } = forces(table('mass (kg);reading (counts);tolerance', '1;1;1%', '2;2;1%'))
    const masses = doubts.find(d => d.source === 'masses')!
    expect(masses.movesN[1]! / masses.movesN[0]!).toBeCloseTo(2, 12)
    expect(masses.movesN[0]).toBeCloseTo((0.01 * 9.81236918778) / Math.sqrt(3), 9)
    expect(doubts.map(d => d.source).sort()).toEqual(['air buoyancy', 'gravity', 'masses'])
  })
  test('a reference moves the stacks that it hangs in', () => {
    const stacked = table('stack;reading (counts)', '0;0', 'a;1', 'a + b;2')
    const references = new Map([
      ['a', { name: 'a', kg: 1, standardKg: 0.001, densityKgM3: null, text: '' }],
      ['b', { name: 'b', kg: 2, standardKg: 0.002, densityKgM3: null, text: '' }],
    ])
    const { points, doubts } = forces(stacked, { references })
    expect(points[2]!.appliedN).toBeCloseTo(3 * 9.81236918778, 8)
    expect(Array.from(doubts.find(d => d.source === 'reference b')!.movesN, v => v > 0)).toEqual([
      false,
      false,
      true,
    ])
    expect(Array.from(doubts.find(d => d.source === 'reference a')!.movesN, v => v > 0)).toEqual([
      false,
      true,
      true,
    ])
  })
  test('what is not known is said: the place, and the masses’ limits', () => {
    const codes = forces(table('mass (kg);reading (counts)', '1;1'), {
      gravity: UNKNOWN_GRAVITY,
    }).warnings.map(w => w.code)
    expect(codes).toEqual(['gravity-assumed', 'loads-without-doubt'])
  })
  test('an impossible density', () => {
    const outcome = applyLoads('p.csv', rowsOf(table('mass (kg);density;reading (counts)', '1;-5;1')).rows, {
      gravity: UNKNOWN_GRAVITY,
    })
    expect(outcome.ok).toBe(false)
  })
})

describe('direction and cycle from the order', () => {
  const told = (order: string) =>
    sweepsOf(order.split(' ').map(Number))
      .marks.map(m => `${m.direction[0]}${m.cycle}`)
      .join(' ')
  test('up and down', () => expect(told('0 10 20 10 0')).toBe('u1 u1 u1 d1 d1'))
  test('two cycles', () => expect(told('0 10 20 10 0 10 20 10 0')).toBe('u1 u1 u1 d1 d1 u2 u2 d2 d2'))
  test('runs up one after the other', () => expect(told('10 20 30 10 20 30')).toBe('u1 u1 u1 u2 u2 u2'))
  test('a return to zero between runs ends the first', () =>
    expect(told('0 10 20 30 0 10 20 30')).toBe('u1 u1 u1 u1 d1 u2 u2 u2'))
  test('no order at all: repeats are cycles', () =>
    expect(told('10 30 20 30 10 20 20 10 30')).toBe('u1 u1 u1 u2 u2 u2 u3 u3 u3'))
})
