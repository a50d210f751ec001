import { describe, expect, test } from 'vitest'
import type { Reading } from '../../../../src/core/reading/document.ts'
import {
  sharedStandardOfDifference,
  sharedStandardOfMean,
} from '../../../../src/core/statistics/compare/doubt.ts'
import { specimenOfReading } from '../../../../src/core/statistics/compare/fromReading.ts'
import { namePattern } from '../../../../src/core/statistics/compare/namePattern.ts'
import { onOneScale } from '../../../../src/core/statistics/compare/oneScale.ts'
import { perDimension } from '../../../../src/core/statistics/compare/perDimension.ts'
import { plainSpecimen, type Specimen } from '../../../../src/core/statistics/compare/specimen.ts'

describe('namePattern', () => {
  const read = (pattern: string, name: string) => {
    const made = namePattern(pattern)
    if (!made.ok) throw new Error(made.problems[0]!.what)
    return made.value(name)
  }
  test('the variant takes what the number leaves', () => {
    expect(read('{variant}-{n}.csv', 'hot-melt-12.csv')).toMatchObject({
      variant: 'hot-melt',
      n: '12',
      part: null,
    })
    expect(read('{variant}-{n}{part}', 'stitch-2b.csv')).toMatchObject({
      variant: 'stitch',
      n: '2',
      part: 'b',
    })
    expect(read('{day}_{variant}_{n}.txt', '2026-03-01_paste_3.TXT')).toMatchObject({
      day: '2026-03-01',
      variant: 'paste',
    })
    expect(read('log * {variant}.csv', 'log 0007 glue.csv')).toMatchObject({ variant: 'glue' })
  })
  test('a name that does not fit is null, and signs stand for themselves', () => {
    expect(read('{variant}-{n}.csv', 'paste.csv')).toBeNull()
    expect(read('a+{variant}.csv', 'aa+x.csv')).toBeNull()
    expect(read('a+{variant}.csv', 'a+x.csv')).toMatchObject({ variant: 'x' })
  })
  test('a field that is not known, comes twice or is missing is told with the fields there are', () => {
    for (const [pattern, what] of [
      ['{kind}-{n}', '“{kind}” is not a field.'],
      ['{variant}{variant}', '“{variant}” comes twice.'],
      ['paste-{n}', 'it has no {variant}.'],
    ] as const) {
      const made = namePattern(pattern)
      expect(made.ok).toBe(false)
      if (!made.ok)
        expect(made.problems[0]).toMatchObject({ what, cure: expect.stringContaining('{variant}') })
    }
  })
})

const reading = (
  peak: Partial<Reading['results']['peakForce']>,
  more: Partial<Reading['results']> = {},
  forceUnit: string | null = 'kgf',
) =>
  ({
    specimen: { mode: 'peel', widthMm: 20, thicknessMm: 2, lengthMm: null },
    recording: { name: 'paste-1.csv', forceUnit },
    results: {
      peakForce: { status: 'measured', valueN: 68, uncertaintyN: 1.5, lowN: null, highN: null, ...peak },
      partialBreaks: 3,
      laterPeaks: [
        { valueN: 10, uncertaintyN: 1 },
        { valueN: 12, uncertaintyN: 2 },
      ],
      work: { valueJ: 4, uncertaintyJ: 0.5 },
      stiffness: { value: 9, unit: 'N/mm' },
      ...more,
    },
    budget: [{ source: 'noise', standardN: 0.5, correctionN: 0, shared: 'none' }],
  }) as unknown as Reading
const facts = { name: 'paste 1', group: 'paste' }
const specimenOf = (r: Reading, quantity: Parameters<typeof specimenOfReading>[1] = 'peakForce') =>
  specimenOfReading(r, quantity, facts)

describe('specimenOfReading', () => {
  test('the peak brings its budget, its mode and its interval', () => {
    expect(specimenOf(reading({}))).toMatchObject({
      unit: 'N',
      specimen: {
        value: 68,
        low: 66.5,
        high: 69.5,
        mode: 'peel',
        parts: [{ source: 'noise', standard: 0.5, shared: 'none' }],
      },
    })
  })
  test('a lopsided interval counts instead of the half-width', () => {
    expect(specimenOf(reading({ lowN: 67, highN: 71 })).specimen).toMatchObject({ low: 67, high: 71 })
  })
  test('what did not break held at least so much, whatever is compared', () => {
    expect(specimenOf(reading({ status: 'at-least' })).specimen).toMatchObject({
      status: 'at-least',
      value: 68,
    })
    // As a reading says it: no more than its interval is sure of.
    expect(specimenOf(reading({ status: 'at-least', lowN: 67, highN: 71 })).specimen.value).toBe(67)
    expect(specimenOf(reading({ status: 'at-least' }), 'work').specimen.status).toBe('at-least')
  })
  test('what is not there is not recorded, never 0', () => {
    for (const status of ['not-recorded', 'not-reached'] as const)
      expect(specimenOf(reading({ status, valueN: null })).specimen).toMatchObject({ status, value: null })
    expect(specimenOf(reading({}, { work: null }), 'work').specimen).toMatchObject({
      status: 'not-recorded',
      value: null,
    })
    expect(specimenOf(reading({}, { laterPeaks: [] }), 'laterPeak').specimen.value).toBeNull()
  })
  test('where nothing was pulled nothing counts, whatever is compared', () => {
    const idle = reading({ status: 'no-pull', valueN: null }, { partialBreaks: 0 })
    for (const quantity of ['peakForce', 'partialBreaks', 'work', 'laterPeak', 'stiffness'] as const)
      expect(specimenOf(idle, quantity).specimen, quantity).toMatchObject({
        status: 'not-recorded',
        value: null,
      })
  })
  test('a peak as indicated counts, with the doubt that the zeros leave', () => {
    const open = reading({ zero: 'as-indicated', lowN: 61, highN: 74 })
    expect(specimenOf(open).specimen).toMatchObject({ status: 'measured', value: 68, low: 61, high: 74 })
  })
  test('other quantities: greatest later peak, work, count, stiffness in its own unit', () => {
    expect(specimenOf(reading({}), 'laterPeak').specimen.value).toBe(12)
    expect(specimenOf(reading({}), 'work')).toMatchObject({ unit: 'J', specimen: { value: 4, low: 3.5 } })
    expect(specimenOf(reading({}), 'partialBreaks')).toMatchObject({ unit: '', specimen: { value: 3 } })
    expect(specimenOf(reading({}), 'stiffness').unit).toBe('N/mm')
  })
  describe('of a scale that is known to 1 %, with 0.34 N between samples at a peak of 68 N', () => {
    const budget = [
      { source: 'between samples', standardN: 0.34, correctionN: 0, shared: 'none' },
      { source: 'calibration of 2026-05-03', standardN: 0.68, correctionN: 0, shared: 'rig', of: 'rig 1' },
    ] as const
    const partsFor = (quantity: 'laterPeak' | 'work' | 'stiffness') =>
      specimenOf({ ...reading({}), budget: [...budget] } as Reading, quantity).specimen.parts.map(
        ({ source, standard, shared }) => [source, Number(standard.toFixed(6)), shared],
      )
    test('a later peak has 1 % of itself from the scale, beside its own doubt', () =>
      expect(partsFor('laterPeak')).toEqual([
        ['itself', 1.020427, 'none'],
        ['calibration of 2026-05-03', 0.12, 'rig'],
      ]))
    test('work has that too, and twice the last sample’s share of the peak', () =>
      expect(partsFor('work')).toEqual([
        ['itself', 0.255107, 'none'],
        ['between samples', 0.04, 'none'],
        ['calibration of 2026-05-03', 0.04, 'rig'],
      ]))
    test('a stiffness has the scale’s alone', () =>
      expect(partsFor('stiffness')).toEqual([['calibration of 2026-05-03', 0.09, 'rig']]))
    test('the later peaks of two rigs differ by what their scales leave, on one rig by none of it', () => {
      const on = (of: string): Specimen =>
        specimenOf({ ...reading({}), budget: [{ ...budget[1], of }] } as Reading, 'laterPeak').specimen
      expect(sharedStandardOfDifference([on('rig 1')], [on('rig 2')])).toBeCloseTo(0.12 * Math.SQRT2, 12)
      expect(sharedStandardOfDifference([on('rig 1')], [on('rig 1')])).toBe(0)
    })
  })
  test('raw counts, and numbers whose unit is not told, stand on their own scale', () => {
    expect(specimenOf(reading({}, {}, 'counts'))).toMatchObject({ unit: 'counts', specimen: { value: 68 } })
    expect(specimenOf(reading({}, {}, null), 'laterPeak')).toMatchObject({ unit: 'log units' })
    expect(specimenOf(reading({}, {}, 'counts'), 'partialBreaks').unit).toBe('')
  })
  test('only like is compared with like: forces where there are any, else counts among themselves', () => {
    const force = { unit: 'N', specimen: plainSpecimen('a', 'paste', 60) }
    const counts = { unit: 'counts', specimen: plainSpecimen('b', 'paste', 398_861) }
    const mixed = onOneScale([counts, force])
    expect(mixed).toMatchObject({ unit: 'N', warnings: [{ code: 'other-scale' }] })
    expect(mixed.specimens).toMatchObject([
      { name: 'b', value: null, dropped: expect.stringContaining('raw counts') },
      { name: 'a', value: 60, dropped: null },
    ])
    const alone = onOneScale([counts, { ...force, specimen: { ...force.specimen, dropped: 'slipped' } }])
    expect(alone).toMatchObject({ unit: 'counts', warnings: [{ code: 'no-force' }] })
    expect(alone.specimens).toMatchObject([
      { value: 398_861, dropped: null },
      { value: null, dropped: 'slipped' },
    ])
  })
})

describe('perDimension', () => {
  const specimen: Specimen = {
    ...plainSpecimen('p1', 'paste', 60),
    low: 57,
    high: 63,
    parts: [{ source: 'noise', standard: 1.5, shared: 'none' }],
  }
  const of = (widthMm: number | null) => () => ({ widthMm, thicknessMm: 2, lengthMm: null })
  test('N/mm and MPa with the doubt divided alike', () => {
    expect(perDimension([specimen], of(20), { per: 'width', doubtMm: null })).toMatchObject({
      ok: true,
      value: { unit: 'N/mm', specimens: [{ value: 3, low: 2.85, high: 3.15, parts: [{ standard: 0.075 }] }] },
    })
    expect(perDimension([specimen], of(20), { per: 'area', doubtMm: null })).toMatchObject({
      value: { unit: 'MPa', specimens: [{ value: 1.5 }] },
    })
  })
  test('the doubt of the width comes on top: 1 mm in 20 is 5 %, as much as the 5 % of the force', () => {
    const made = perDimension([specimen], of(20), { per: 'width', doubtMm: 1 })
    if (!made.ok) throw new Error('should divide')
    const [only] = made.value.specimens
    expect(only!.high! - only!.value!).toBeCloseTo(Math.hypot(0.15, 0.15), 10)
    expect(only!.parts.map(p => p.source)).toEqual(['noise', 'dimensions'])
  })
  test('of a value of whose doubt nothing is known the interval is what the width leaves; of none, none', () => {
    const bare = plainSpecimen('p1', 'paste', 60)
    const ends = (doubtMm: number | null) => {
      const made = perDimension([bare], of(20), { per: 'width', doubtMm })
      if (!made.ok) throw new Error('should divide')
      return made.value.specimens.map(({ value, low, high, parts }) => [value, low, high, parts.length])[0]!
    }
    expect(ends(null)).toEqual([3, null, null, 0])
    const [value, low, high, parts] = ends(1)
    expect([value, parts]).toEqual([3, 1])
    expect(low).toBeCloseTo(2.85, 10)
    expect(high).toBeCloseTo(3.15, 10)
  })
  test('a specimen without the dimension is named', () => {
    expect(perDimension([specimen], of(null), { per: 'width', doubtMm: null })).toMatchObject({
      ok: false,
      problems: [{ where: 'p1', what: expect.stringContaining('width_mm') }],
    })
  })
})

describe('shared doubt', () => {
  const with_ = (
    value: number,
    standard: number,
    shared: 'rig' | 'day' | 'none',
    day: string | null = null,
  ): Specimen => ({
    ...plainSpecimen('s', 'g', value),
    day,
    parts: [{ source: 'scale', standard, shared }],
  })
  test('of the rig: does not shrink with the number, and cancels as an offset', () => {
    const four = [1, 2, 3, 4].map(v => with_(v, 0.5, 'rig'))
    expect(sharedStandardOfMean(four)).toBeCloseTo(0.5, 12)
    expect(sharedStandardOfDifference(four, four)).toBe(0)
  })
  test('of the rig, in proportion to the value: leaves its share of the difference', () => {
    const a = [100, 110].map(v => with_(v, v * 0.02, 'rig'))
    const b = [50, 60].map(v => with_(v, v * 0.02, 'rig'))
    expect(sharedStandardOfDifference(a, b)).toBeCloseTo(0.02 * 50, 12)
  })
  test('of the day: halves of two days add as independent; groups pulled on other days do not cancel', () => {
    const days = ['mon', 'mon', 'tue', 'tue'].map(day => with_(10, 1, 'day', day))
    expect(sharedStandardOfMean(days)).toBeCloseTo(Math.SQRT1_2, 12)
    expect(
      sharedStandardOfDifference([with_(10, 1, 'day', 'mon')], [with_(10, 1, 'day', 'tue')]),
    ).toBeCloseTo(Math.SQRT2, 12)
    expect(sharedStandardOfDifference([with_(10, 1, 'day', 'mon')], [with_(10, 1, 'day', 'mon')])).toBe(0)
  })
  test('shared by nothing: is in the scatter already', () => {
    expect(sharedStandardOfMean([with_(1, 9, 'none'), with_(2, 9, 'none')])).toBe(0)
  })
})

describe('what is shared goes by what shares it, not by the day', () => {
  const on = (group: string, of: string): Specimen => ({
    ...plainSpecimen(`${group} 1`, group, 100),
    parts: [
      { source: 'calibration of 2026-05-03', of, standard: 1, shared: 'rig' },
      { source: 'reference big mass', of: 'reference big mass', standard: 0.5, shared: 'rig' },
    ],
  })
  test('two rigs calibrated on one day are two; the masses that both hung are one', () => {
    expect(sharedStandardOfDifference([on('a', 'rig 1')], [on('b', 'rig 2')])).toBeCloseTo(Math.SQRT2, 12)
    expect(sharedStandardOfDifference([on('a', 'rig 1')], [on('b', 'rig 1')])).toBe(0)
    // In a mean over both rigs: 1/√2 of the calibrations, all of the masses.
    expect(sharedStandardOfMean([on('a', 'rig 1'), on('a', 'rig 2')])).toBeCloseTo(
      Math.hypot(Math.SQRT1_2, 0.5),
      12,
    )
  })
})
