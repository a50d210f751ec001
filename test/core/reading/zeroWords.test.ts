import { describe, expect, test } from 'vitest'
import { makePull } from '../../../src/capture/pretend/index.ts'
import type { PeakForce } from '../../../src/core/reading/document.ts'
import { inNewton } from '../../../src/core/reading/explainLedger.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import {
  stretchAtLevel,
  whereItStood,
  zeroChoices,
  zeroSentence,
} from '../../../src/core/reading/zeroWords.ts'
import { perfectReading } from './harness/perfectReading.ts'

const PER_S = 10
/** Levels, each held for so many seconds, ten readings a second. */
const record = (levels: readonly (readonly [number, number])[]) => {
  const forceN = Float64Array.from(
    levels.flatMap(([levelN, forS]) => Array.from({ length: forS * PER_S }, () => levelN)),
  )
  return { forceN, timeS: forceN.map((_, i) => i / PER_S) }
}
const fine = { noiseN: 0.05, quantumN: 0 }

describe('where the reading stands at a level', () => {
  const held = record([
    [0, 2],
    [8, 4],
    [60, 1],
    [0, 6],
  ])
  test('is the longest of the stretches there', () => {
    expect(stretchAtLevel(held, fine, 0)).toEqual({ fromS: 7, toS: 12.9 })
    expect(stretchAtLevel(held, fine, 8)).toEqual({ fromS: 2, toS: 5.9 })
  })
  test('is nowhere where the reading only goes through it', () => {
    expect(stretchAtLevel(held, fine, 30)).toBeNull()
  })
  test('goes by the noise and by the step of the display', () => {
    expect(stretchAtLevel(held, fine, 8.5)).toBeNull()
    expect(stretchAtLevel(held, { noiseN: 0.2, quantumN: 0 }, 8.5)).not.toBeNull()
    expect(stretchAtLevel(held, { noiseN: 0, quantumN: 0.5 }, 8.5)).not.toBeNull()
  })
})

const at = (levelN: number, weight: number) => ({ levelN, weight, peakN: 60 - levelN, basis: 'rest' })

describe('a choice of zeros', () => {
  const base = perfectReading(makePull({ kind: 'brittle', seed: 1 }).truth)
  const reading = (zeroAlternatives: PeakForce['zeroAlternatives']) => ({
    recording: { ...base.recording, ...fine },
    results: {
      ...base.results,
      peakForce: { ...base.results.peakForce, zero: 'as-indicated' as const, zeroAlternatives },
    },
  })
  const held = record([
    [8, 4],
    [60, 1],
    [10, 3],
  ])
  test('names the stretches, the likeliest zero first; a level that is nowhere seen has none', () => {
    const open = reading([at(8, 0.2), at(10, 0.5), at(0, 0.3)])
    expect(zeroChoices(held, open)).toEqual([
      { levelN: 10, fromS: 5, toS: 7.9 },
      { levelN: 8, fromS: 0, toS: 3.9 },
    ])
    expect(zeroSentence(open.results.peakForce, inNewton)).toBe(
      'The peak is 50.0 N if the empty cell reads 10.0 N (50 in 100), 60.0 N if the empty cell reads 0 N (30 in 100) or 52.0 N if the empty cell reads 8.00 N (20 in 100): the record does not settle it.',
    )
  })
  test('counts the zero that was taken among those that are possible', () => {
    const { valueN } = base.results.peakForce
    const other = { levelN: 8, weight: 0.32, peakN: valueN! - 8, basis: 'rest' }
    const open = reading([other])
    const [taken, one] = [valueN!, valueN! - 8].map(n => inNewton(n, null))
    expect(zeroSentence(open.results.peakForce, inNewton)).toBe(
      `The peak is ${taken} if the empty cell reads 0 N (68 in 100) or ${one} if the empty cell reads 8.00 N (32 in 100): the record does not settle it.`,
    )
    const choices = zeroChoices(held, open)
    expect(choices).toEqual([{ levelN: 8, fromS: 0, toS: 3.9 }])
    expect(whereItStood(choices, inNewton)).toBe('It stood at 8.00 N from 0.00 to 3.90 s.')
    expect(whereItStood([], inNewton)).toBeNull()
  })
  test('is none where one zero, or none, is told', () => {
    for (const alternatives of [null, [], [at(8, 1)]]) {
      expect(zeroChoices(held, reading(alternatives))).toEqual([])
      expect(zeroSentence(reading(alternatives).results.peakForce, inNewton)).toBeNull()
    }
  })
})

describe('a stretch that is called a hold', () => {
  // An untared cell: its rests are all that tells the zero.
  const { recording, truth } = makePull({
    kind: 'untared',
    seed: 3,
    setting: { rateHz: 40, zeroing: 'untared' },
    change: spec => ({ ...spec, bench: { ...spec.bench, offsetN: Math.abs(spec.bench.offsetN) } }),
  })
  const signed = { who: 'R. Weaver', when: '2026-05-04T14:20:00Z', why: 'held taut' }
  const [first] = truth.pulls
  const hold = (id: string, fromS: number, toS: number) => ({
    ...signed,
    id,
    kind: 'hold' as const,
    fromS,
    toS,
  })
  const endS = recording.timeS.at(-1)!
  const both = [hold('a', 0, first!.start), hold('b', first!.end, endS + 1)]
  const peakOf = (adjustments: typeof both) => readRecording(recording, { adjustments }).results.peakForce

  test('tells nothing of the zero any more', () => {
    expect(Math.abs(peakOf([]).valueN! / truth.peakN - 1)).toBeLessThan(0.02)
    expect(Math.abs(peakOf(both).valueN! / truth.peakN - 1)).toBeGreaterThan(0.03)
    expect(peakOf(both).zero).toBe('as-indicated')
  })
  test('and taking the word back brings the zero back', () => {
    expect(peakOf(both.slice(0, 1)).zero).toBe('seen')
  })
})

describe('a record that begins under a load, or with a zero that is off', () => {
  const { recording } = makePull({ kind: 'begun-loaded', seed: 1, setting: { rateHz: 20 } })
  const open = readRecording(recording)
  const [choice] = zeroChoices(recording, open)
  const settled = (kind: 'zero-here' | 'hold') =>
    readRecording(recording, {
      adjustments: [
        {
          ...{ id: 'a', who: 'R. Weaver', when: '2026-05-04T14:20:00Z', why: 'seen', kind },
          ...{ fromS: choice!.fromS, toS: choice!.toS },
        },
      ],
    })
  test('leaves two zeros open, and one word settles it either way', () => {
    expect(zeroSentence(open.results.peakForce, inNewton)).toContain('does not settle it')
    const empty = settled('zero-here')
    const held = settled('hold')
    for (const { results } of [empty, held]) expect(zeroSentence(results.peakForce, inNewton)).toBeNull()
    expect(empty.results.peakForce.zero).toBe('seen')
    expect(empty.results.peakForce.valueN! - held.results.peakForce.valueN!).toBeCloseTo(-choice!.levelN, 1)
    expect(held.results.peakForce.valueN).toBe(open.results.peakForce.valueN)
  })
})
