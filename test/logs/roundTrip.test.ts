import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type ForceUnit, N_PER } from '../../src/core/units/force.ts'
import { type Samples, writers } from './shapeWriters.ts'
import { recordingOf } from './support.ts'

const units: readonly ForceUnit[] = ['N', 'kN', 'mN', 'kgf', 'gf', 'tf', 'lbf', 'ozf', 'kip']

/**
 * A pull: times that rise by 1 ms to 0.9 s, forces that start at rest and reach a peak well above what goes
 * below zero.
 */
const pulls: fc.Arbitrary<Samples> = fc
  .record({
    steps: fc.array(fc.integer({ min: 1, max: 900 }), { minLength: 12, maxLength: 40 }),
    forces: fc.array(fc.integer({ min: -20_000, max: 9_999_999 }), { minLength: 40, maxLength: 40 }),
    unit: fc.constantFrom(...units),
  })
  .map(({ steps, forces, unit }) => {
    let ms = 0
    const timeMs = steps.map((step, i) => {
      ms += i === 0 ? 0 : step
      return ms
    })
    const force = timeMs.map((_, i) => (i < 2 || i >= steps.length - 1 ? 0 : forces[i]! / 1000))
    force[5] = 9_999.125
    force[6] = 9_998.875
    return { timeMs, force, unit }
  })

describe('a recording written in any shape reads back the same, to the printed digits', () => {
  for (const { title, write, options } of writers) {
    test(title, () => {
      fc.assert(
        fc.property(pulls, samples => {
          const { timeS, forceN, forceUnit } = recordingOf(write(samples), options)
          expect(forceUnit).toBe(samples.unit)
          const first = timeS[0]!
          const times = Array.from(timeS, s => Math.round((s - first) * 1e6) / 1e3)
          expect(times).toEqual(samples.timeMs)
          const forces = Array.from(
            forceN,
            n => Math.round((n / N_PER[samples.unit as ForceUnit]) * 1e6) / 1e6 + 0,
          )
          expect(forces).toEqual(samples.force.map(f => f + 0))
        }),
        { numRuns: 25, seed: 20_261_125 },
      )
    })
  }
})
