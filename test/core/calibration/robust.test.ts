import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { applyLoads } from '../../../src/core/calibration/applied.ts'
import { applyRig } from '../../../src/core/calibration/applyRig.ts'
import { calibrate } from '../../../src/core/calibration/calibrate.ts'
import { parseChecks } from '../../../src/core/calibration/checkDocument.ts'
import { calibrationSchema } from '../../../src/core/calibration/document.ts'
import { findHang, findPlateaus } from '../../../src/core/calibration/plateaus.ts'
import { readPointRows } from '../../../src/core/calibration/pointsTable.ts'
import { parseRig, rigSchema } from '../../../src/core/calibration/rig.ts'
import { creepOf, settlingOf } from '../../../src/core/calibration/settling.ts'
import { rigStiffness } from '../../../src/core/calibration/stiffness.ts'
import { UNKNOWN_GRAVITY } from '../../../src/core/units/gravity.ts'
import { recordingOf } from './recordings.ts'

const options = { seed: 11, numRuns: 200 }
const number = fc.oneof(
  fc.integer({ min: -100, max: 100 }),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.constantFrom(0, 1e308, -1e308, 5e-324, 1e-9),
)
const cell = fc.oneof(
  fc.string({ maxLength: 8 }),
  number.map(String),
  fc.constantFrom(
    '',
    '1 kg',
    '500 g',
    '20 N',
    'up',
    'down',
    '-',
    '1,5',
    '1e3',
    '+',
    'NaN',
    'Infinity',
    '0x10',
  ),
)

describe('bad input is an answer, never a crash', () => {
  test('any table of points', () =>
    fc.assert(
      fc.property(
        fc.option(
          fc.array(
            fc.oneof(
              cell,
              fc.constantFrom(
                'mass (kg)',
                'reading (counts)',
                'stack',
                'direction',
                'cycle',
                'tolerance',
                'density',
              ),
            ),
            { maxLength: 6 },
          ),
          { nil: null },
        ),
        fc.array(fc.array(cell, { maxLength: 6 }), { maxLength: 8 }),
        (header, rows) => {
          const read = readPointRows({
            name: 'p.csv',
            header,
            rows: rows.map((cells, i) => ({ line: i + 2, cells })),
          })
          if (!read.ok) {
            for (const problem of read.problems) expect(problem.cure).not.toBe('')
            return
          }
          const applied = applyLoads('p.csv', read.value.rows, { gravity: UNKNOWN_GRAVITY })
          if (!applied.ok) return
          calibrate({
            name: 'p.csv',
            ...applied.value,
            gravity: UNKNOWN_GRAVITY,
            readingUnit: read.value.readingUnit,
          })
        },
      ),
      options,
    ))
  test('any points: a document that keeps to its schema, or problems', () =>
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            line: fc.integer({ min: 0, max: 50 }),
            appliedN: number,
            reading: number,
            direction: fc.constantFrom('up' as const, 'down' as const),
            cycle: fc.integer({ min: 1, max: 3 }),
          }),
          { maxLength: 12 },
        ),
        fc.record({
          degree: fc.constantFrom(1 as const, 2 as const, 3 as const),
          throughZero: fc.boolean(),
          risingOnly: fc.boolean(),
        }),
        (points, given) => {
          const outcome = calibrate(
            { name: 'p.csv', points, doubts: [], gravity: UNKNOWN_GRAVITY, readingUnit: 'N' },
            given,
          )
          if (outcome.ok) calibrationSchema.parse(JSON.parse(JSON.stringify(outcome.value)))
          else expect(outcome.problems.length).toBeGreaterThan(0)
        },
      ),
      options,
    ))
  test('points of ordinary size with every degree chosen by rule', () =>
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            line: fc.constant(0),
            appliedN: fc.integer({ min: 0, max: 5 }).map(k => 20 * k),
            reading: fc.integer({ min: -100, max: 100 }),
            direction: fc.constantFrom('up' as const, 'down' as const),
            cycle: fc.integer({ min: 1, max: 3 }),
          }),
          { minLength: 4, maxLength: 18 },
        ),
        points => {
          const outcome = calibrate({
            name: 'p.csv',
            points,
            doubts: [],
            gravity: UNKNOWN_GRAVITY,
            readingUnit: 'counts',
          })
          if (outcome.ok) calibrationSchema.parse(JSON.parse(JSON.stringify(outcome.value)))
        },
      ),
      options,
    ))
  test('any recording', () =>
    fc.assert(
      fc.property(fc.array(number, { maxLength: 120 }), values => {
        const recording = recordingOf(values, { unit: 'N' })
        findPlateaus(recording)
        findHang(recording)
        settlingOf(recording)
        creepOf(recording)
        rigStiffness(recording.forceN, recording.timeS, 'log')
        applyRig(
          recording,
          rigSchema.parse({ cell: { capacityN: 100 }, stiffness: { nPerMm: 10 } }),
          '2026-05-03',
        )
      }),
      options,
    ))
  test('any text as a rig or a file of checks', () =>
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.json()), text => {
        const rig = parseRig(text, 'rig.json')
        if (!rig.ok) for (const { where } of rig.problems) expect(where).toContain('rig.json')
        parseChecks(text, 'c.jsonl')
      }),
      options,
    ))
})
