import { scaleLinear, scaleLog } from 'd3-scale'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { N_PER } from '../../../src/core/units/force.ts'
import { axisText } from '../../../src/publish/figure/axisText.ts'

const readBack = (text: string): number => Number(text.replace('−', '-'))

test('as short as reads back', () => {
  expect([100, 110, 130, 4, 0.5, -2.5, 0, 0.1 + 0.2, 12000, 1e-7].map(axisText)).toEqual([
    '100',
    '110',
    '130',
    '4',
    '0.5',
    '−2.5',
    '0',
    '0.3',
    '12000',
    '0.0000001',
  ])
})

test('every tick of every range, in every unit, linear or logarithmic, reads back as its value', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1e-3, max: 1e6, noNaN: true }),
      fc.double({ min: 1.05, max: 50, noNaN: true }),
      fc.constantFrom(...Object.values(N_PER)),
      (lowN, share, per) => {
        const [low, high] = [lowN / per, (lowN * share) / per]
        const ticks = [
          ...scaleLinear([low, high], [0, 500]).ticks(8),
          ...scaleLog([low, high], [0, 500]).ticks(8),
        ]
        for (const tick of ticks) {
          const text = axisText(tick)
          expect(text).toMatch(/^−?\d+(\.\d+)?$/)
          expect(Math.abs(readBack(text) - tick)).toBeLessThanOrEqual(1e-9 * Math.abs(tick))
        }
      },
    ),
    { seed: 22, numRuns: 400 },
  )
})
