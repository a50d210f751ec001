import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { lines, recordingOf } from '../support.ts'

/** Rest, a ramp, a break, rest: in kN, so that most forces are below 1. */
const forceKn = (i: number): number => (i < 40 || i > 160 ? 0 : (i - 40) * 0.05) + 0.003 * (i % 3)

const logOf = (delimiter: string, time: (i: number) => string, force: (i: number) => string): string =>
  `time_s${delimiter}force_kN\n${lines(200, i => `${time(i)}${delimiter}${force(i)}`)}`

const withComma = (text: string): string => text.replace('.', ',')
const times = (digits: number) => (i: number) => (i * 0.05).toFixed(digits)
const forces = (i: number): string => forceKn(i).toFixed(3)

describe('a log that writes one column with a point and another with a comma', () => {
  test.each([';', '\t', ' '].flatMap(delimiter => [1, 2, 3, 4].map(digits => [delimiter, digits] as const)))(
    'parted by “%s”, times of %i digits, loses no row and no thousandfold',
    (delimiter, digits) => {
      const plain = recordingOf(logOf(delimiter, times(digits), forces))
      const mixed = recordingOf(logOf(delimiter, times(digits), i => withComma(forces(i))))
      expect(mixed.forceN).toEqual(plain.forceN)
      expect(mixed.timeS).toEqual(plain.timeS)
      expect(Math.max(...mixed.forceN)).toBeCloseTo(1000 * forceKn(160), 9)
      expect(mixed.understood).toMatch(
        /header in line 1; time from column 1 “time_s” .*decimal point and comma/,
      )
      expect(mixed.assumptions.map(({ code }) => code)).toContain('decimal-assumed')
    },
  )

  test('the comma in the time, units beside the forces', () => {
    const r = recordingOf(
      logOf(
        ';',
        i => withComma(times(3)(i)),
        i => `${forces(i)} kN`,
      ),
    )
    expect(r.forceN[160]).toBeCloseTo(1000 * forceKn(160), 9)
    expect(r.timeS).toHaveLength(200)
    expect(r.timeS[1]! - r.timeS[0]!).toBeCloseTo(0.05, 12)
  })

  test('in quotes between commas', () => {
    const r = recordingOf(logOf(',', times(2), i => `"${withComma(forces(i))}"`))
    expect(r.forceN[160]).toBeCloseTo(1000 * forceKn(160), 9)
    expect(r.timeS).toHaveLength(200)
  })
})

test('thousands marks beside decimal points stay thousands marks', () => {
  const r = recordingOf(`time_s;force_N\n${lines(100, i => `${(i / 20).toFixed(2)};1,${200 + i}`)}`)
  expect(r.forceN[99]).toBe(1299)
  expect(r.understood).toContain('decimal point;')
})

test('one mark throughout is never taken for two', () => {
  const number = fc.double({ min: -5000, max: 5000, noNaN: true })
  fc.assert(
    fc.property(
      fc.array(fc.tuple(number, number), { minLength: 20, maxLength: 60 }),
      fc.integer({ min: 0, max: 4 }),
      fc.integer({ min: 0, max: 4 }),
      fc.boolean(),
      (rows, first, second, comma) => {
        const log = rows
          .map(([a, b], i) => `${i}.5;${a.toFixed(first)};${b.toFixed(second)}`)
          .map(row => (comma ? row.replaceAll('.', ',') : row))
          .join('\n')
        // Which column is the force is told: where one of them never moves it would be asked.
        const r = recordingOf(`time_s;force_N;other\n${log}\n`, { force: 'force_N' })
        expect(r.understood).not.toContain('point and comma')
        expect(r.timeS).toHaveLength(rows.length)
      },
    ),
    { numRuns: 200, seed: 20_261_130 },
  )
})
