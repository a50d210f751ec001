import { expect, test } from 'vitest'
import { isTyped, type TypedPeak, typedPeakOf, typedReading } from '../../../src/core/reading/typedReading.ts'

const peak: TypedPeak = { value: 12.3, unit: 'kgf', isAtLeast: false, step: null, doubt: null, who: '' }
const specimen = { name: 'paste 1' } as Parameters<typeof typedReading>[0]
const read = (change: Partial<TypedPeak>) => typedReading(specimen, { ...peak, ...change })

test('the force is what was typed, in newton, and nothing is made up beside it', () => {
  const { results, recording, zeros, pulls, events, budget } = read({})
  expect(results.peakForce).toMatchObject({
    status: 'measured',
    zero: 'as-indicated',
    uncertaintyN: null,
    lowN: null,
    highN: null,
    covers: [],
    atS: null,
  })
  expect(results.peakForce.valueN).toBeCloseTo(12.3 * 9.80665, 12)
  expect([zeros, pulls, events, budget]).toEqual([[], [], [], []])
  expect(recording).toMatchObject({ samples: 0, quantumN: 0, forceUnit: 'kgf' })
})

test('a step of the display is a uniform error of half a step either way', () => {
  // 0.1 kgf: 0.980665 N / (2 √3) = 0.283094 N, twice that for 95 %.
  const { results, recording, budget } = read({ step: 0.1 })
  expect(recording.quantumN).toBeCloseTo(0.980665, 12)
  expect(budget).toMatchObject([{ source: 'display step', shared: 'none' }])
  expect(budget[0]!.standardN).toBeCloseTo(0.283094, 5)
  expect(results.peakForce.uncertaintyN).toBeCloseTo(0.566187, 5)
  expect(results.peakForce.highN! - results.peakForce.lowN!).toBeCloseTo(2 * 0.566187, 5)
})

test('the error of the scale is shared by all that was read off it, and adds in quadrature', () => {
  const { results, budget, warnings } = read({ step: 0.1, doubt: 0.2 })
  expect(budget.map(({ source, shared }) => [source, shared])).toEqual([
    ['display step', 'none'],
    ['scale', 'rig'],
  ])
  // 0.2 kgf at 95 %: 1.96133 N / 1.959964 = 1.000697 N.
  expect(budget[1]!.standardN).toBeCloseTo(1.000697, 5)
  expect(results.peakForce.uncertaintyN).toBeCloseTo(2 * Math.hypot(0.283094, 1.000697), 5)
  expect(results.peakForce.covers).toEqual(['display step', 'scale'])
  expect(warnings.map(({ code }) => code)).toEqual(['typed'])
})

test('without the error of the scale it says so; a peak that was passed is a bound; who typed it is told', () => {
  expect(read({}).warnings.map(({ code }) => code)).toEqual(['typed', 'not-calibrated'])
  const bound = read({ isAtLeast: true, who: 'Ada' })
  expect(bound.results.peakForce.status).toBe('at-least')
  expect(bound.recording.understood).toBe('typed by Ada: at least 12.3 kgf')
  expect(isTyped(bound)).toBe(true)
  expect(isTyped({ warnings: [] })).toBe(false)
})

test('what a reading was made from is read out of it again, and of no other reading', () => {
  for (const change of [{}, { step: 0.1 }, { step: 0.1, doubt: 0.2, isAtLeast: true, who: 'Ada' }] as const)
    expect(typedPeakOf(read(change))).toEqual({ ...peak, ...change })
  expect(typedPeakOf({ ...read({}), warnings: [] })).toBeNull()
})
