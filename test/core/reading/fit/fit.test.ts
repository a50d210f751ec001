import { expect, test } from 'vitest'
import { makePull } from '../../../../src/capture/pretend/index.ts'
import { perfectReading } from '../harness/perfectReading.ts'
import { scoreOne } from '../harness/score.ts'
import { descend, foldsOf } from './coordinate.ts'
import { lossOf } from './loss.ts'
import { realLoss } from './realRecords.ts'

test('coordinate descent finds the least of a bowl, and stays below what a number may be', () => {
  const at: Record<string, number> = { a: 1, b: 1, c: 0.9 }
  const search = {
    loss: () => Math.log(at.a! / 4) ** 2 + Math.log(at.b! / 0.3) ** 2 - at.c!,
    get: (name: string) => at[name]!,
    set: (name: string, value: number) => {
      at[name] = value
    },
    names: ['a', 'b', 'c'],
    passes: 20,
    factor: 1.5,
    worthIt: 1e-9,
    most: (name: string) => (name === 'c' ? 1 : Number.POSITIVE_INFINITY),
  }
  const steps = descend(search)
  expect(Math.abs(Math.log(at.a! / 4))).toBeLessThan(Math.log(1.5))
  expect(Math.abs(Math.log(at.b! / 0.3))).toBeLessThan(Math.log(1.5))
  expect(at.c).toBe(0.9)
  for (const { before, after } of steps) expect(after).toBeLessThan(before)
})

test('folds hold every group out once, whole', () => {
  const folds = foldsOf(['d', 'a', 'b', 'a', 'c', 'e'], 3)
  expect(folds).toHaveLength(3)
  expect(folds.flat().sort()).toEqual(['a', 'b', 'c', 'd', 'e'])
})

const { truth, recording } = makePull({
  kind: 'yield-plateau',
  seed: 5,
  setting: { rateHz: 40, zeroing: 'untared' },
})
const perfect = perfectReading(truth)
const withPeak = (change: object) => ({
  ...perfect,
  results: { ...perfect.results, peakForce: { ...perfect.results.peakForce, ...change } },
})

test('the truth costs next to nothing, and every mistake something', () => {
  const cost = (reading: typeof perfect) => lossOf(scoreOne(reading, truth))
  const least = cost(perfect)
  expect(least).toBeLessThan(0.01)
  const mistakes = [
    withPeak({ valueN: truth.peakN * 1.2 }),
    withPeak({ zero: 'as-indicated' }),
    withPeak({ status: 'not-reached' }),
    { ...perfect, pulls: [] },
    { ...perfect, events: [] },
    { ...perfect, warnings: [{ code: 'over-range', text: '' }] },
  ]
  for (const mistake of mistakes) expect(cost(mistake)).toBeGreaterThan(least + 0.2)
})

test('a labelled record costs by its label', () => {
  const label = {
    ...{ file: 'a.csv', repo: 'a', peak: truth.peakN, peakTol: 0.01, toN: 1, broke: 'yes' as const },
    ...{ zeroShown: true, partialBreaks: [0, 1] as const, pulls: [1, 1] as const },
  }
  const one = { label, recording }
  expect(realLoss(perfect, one)).toBe(0)
  expect(realLoss(withPeak({ valueN: 0.8 * truth.peakN, lowN: 0, highN: 1 }), one)).toBe(3.5)
  expect(realLoss({ ...perfect, pulls: [], events: [] }, one)).toBe(1.5)
  expect(realLoss(perfect, { recording, label: { ...label, zeroShown: false } })).toBe(1)
  expect(realLoss(perfect, { recording, label: { ...label, peak: null } })).toBe(2)
})
