import { expect, test } from 'vitest'
import type { Happening } from '../../../src/capture/pretend/bench.ts'
import {
  type ConverterSpec,
  convert,
  spanPeriods,
  stepsPerOutput,
} from '../../../src/capture/pretend/converter.ts'
import { seeded } from '../../../src/capture/pretend/random.ts'

const RATE_HZ = 100
const PER = stepsPerOutput(RATE_HZ)
const plain: ConverterSpec = {
  rateHz: RATE_HZ,
  passes: [1],
  noiseN: 0,
  unit: 'N',
  quantum: 0,
  limitN: null,
  jitter: 0,
  stampDecimals: 6,
}

/**
 * A force that steps from 0 to 10 N in the middle of the tenth output period; the zero key may be pressed.
 */
const stepAt = 9 * PER + PER / 2
const happening = (zeros: number[] = []): Happening => {
  const steps = 30 * PER
  const forceN = Float64Array.from({ length: steps }, (_, i) => (i < stepAt ? 0 : 10))
  const none = new Float64Array(steps)
  return {
    stepS: 1 / (RATE_HZ * PER),
    forceN,
    asideN: none,
    driftN: none,
    travelMm: none,
    backing: new Uint8Array(steps),
    fractures: [],
    slips: [],
    zeros,
    logs: [{ from: 0, to: steps }],
    regrips: [],
  }
}

const indicated = (change: Partial<ConverterSpec>, zeros: number[] = []): number[] => {
  const [output] = convert(happening(zeros), { ...plain, ...change }, seeded(1))
  return [...output!.indicated]
}

test('one output is the mean over its own period, stamped at its end', () => {
  const [output] = convert(happening(), plain, seeded(1))
  expect(output!.indicated[8]).toBe(0)
  expect(output!.indicated[9]).toBeCloseTo(5, 9)
  expect(output!.indicated[10]).toBeCloseTo(10, 9)
  expect(output!.timeS[9]).toBeCloseTo(10 / RATE_HZ, 6)
})

test.each([{ passes: [1] }, { passes: [2] }, { passes: [1, 1] }, { passes: [1, 1, 1] }, { passes: [4] }])(
  'a step is spread over the span of the averaging, $passes',
  ({ passes }) => {
    const between = indicated({ passes }).filter(v => v > 1e-6 && v < 10 - 1e-6)
    // A step at any time within a period settles in span + 1 outputs, of which the last is whole again.
    expect(between).toHaveLength(spanPeriods(passes))
  },
)

test('the output sticks at the limit, exactly, noise or not', () => {
  const values = indicated({ limitN: 7, noiseN: 0.05 })
  expect(values.slice(12).every(v => v === 7)).toBe(true)
})

test('the display shows whole steps', () => {
  for (const v of indicated({ quantum: 0.5, noiseN: 0.3 }))
    expect(Math.round(v / 0.5) * 0.5).toBeCloseTo(v, 12)
})

test('a zero key pressed under load takes the load for nothing', () => {
  const [output] = convert(happening([20 * PER]), plain, seeded(1))
  expect(output!.indicated[15]).toBeCloseTo(10, 9)
  expect(output!.indicated[25]).toBeCloseTo(0, 9)
  expect(output!.zeros[0]!.noLoadN).toBeCloseTo(-10, 9)
  expect(output!.zeros[0]!.movedN).toBeCloseTo(-10, 9)
})

test('noise has the deviation asked for and no bias', () => {
  const random = seeded(3)
  const draws = Array.from({ length: 20_000 }, () => random.normal(0, 2))
  const mean = draws.reduce((a, b) => a + b, 0) / draws.length
  const sd = Math.sqrt(draws.reduce((a, b) => a + (b - mean) ** 2, 0) / (draws.length - 1))
  // Four standard errors: 2/√20000 for the mean, 2/√40000 for the deviation.
  expect(Math.abs(mean)).toBeLessThan(4 * 0.0142)
  expect(Math.abs(sd - 2)).toBeLessThan(4 * 0.01)
})
