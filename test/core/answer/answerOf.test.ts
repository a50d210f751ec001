import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { answerIn } from '../../../src/core/answer/answerOf.ts'
import type { Answer } from '../../../src/core/answer/document.ts'
import { MOST_WORDS, wordsIn } from '../../../src/core/answer/headline.ts'
import { placeWords } from '../../../src/core/answer/words.ts'
import { type CompareOptions, compareGroups } from '../../../src/core/statistics/compare/compareGroups.ts'
import { plainSpecimen, type Specimen } from '../../../src/core/statistics/compare/specimen.ts'

const group = (name: string, ...values: number[]): Specimen[] =>
  values.map((value, i) => plainSpecimen(`${name} ${i + 1}`, name, value))
const answer = (specimens: readonly Specimen[], options: Partial<CompareOptions> = {}): Answer =>
  answerIn(compareGroups(specimens, { quantity: 'peakForce', unit: 'N', ...options }))
const UNCHECKED = [{ code: 'not-calibrated', text: 'In all 9 readings the scale was not checked: so.' }]

const stitching = group('stitching', 91, 88, 111, 92, 108)
const hotMelt = group('hot-melt', 71, 61, 81, 82, 68)
const paste = group('paste', 45, 44, 51, 49, 47)

describe('the five-second test: what is said first', () => {
  test('one is best: its name, the order, how far ahead', () => {
    const { headline, ranking, next } = answer([...paste, ...hotMelt, ...stitching])
    expect(headline).toBe('Stitching holds most.')
    expect(ranking.map(({ name, place }) => [placeWords(place), name])).toEqual([
      ['1st', 'stitching'],
      ['2nd', 'hot-melt'],
      ['3rd', 'paste'],
    ])
    expect(ranking[0]!.difference).toMatchObject({ to: 'hot-melt', verdict: 'more' })
    expect(ranking[0]!.difference!.by).toBeCloseTo(98 - 72.6, 9)
    expect(ranking[0]!.difference!.low).toBeGreaterThan(0)
    expect(ranking[2]!.difference).toBeNull()
    expect(next.kind).toBe('tell')
  })
  test('none differs: nobody has a place of their own', () => {
    const study = [
      ...group('a', 50, 54, 58, 61),
      ...group('b', 52, 55, 57, 60),
      ...group('c', 51, 53, 59, 62),
    ]
    const { headline, ranking, next } = answer(study)
    expect(headline).toBe('None can be told from another.')
    expect(ranking.map(({ place }) => placeWords(place))).toEqual(['1st to 3rd', '1st to 3rd', '1st to 3rd'])
    expect(next).toMatchObject({ kind: 'pull-more' })
    expect(next.text).toContain(`${next.perGroup} more of each`)
  })
  test('one variant only: nothing to compare with', () => {
    const { headline, ranking, next } = answer(stitching)
    expect(headline).toBe('Only stitching was pulled: nothing to compare it with.')
    expect(ranking).toHaveLength(1)
    expect(next.kind).toBe('add-variant')
  })
  test('all censored: none broke, and no mean is made up', () => {
    const study = [...stitching, ...paste].map(s => ({ ...s, status: 'at-least' as const }))
    const { headline, ranking, doubts, next } = answer(study)
    expect(headline).toBe('None broke: which holds most is not known.')
    expect(ranking.every(({ value }) => value!.atLeast)).toBe(true)
    expect(doubts.map(({ text }) => text)).toContain(
      '5 of 5 stitching did not break: they hold at least what was reached.',
    )
    expect(next.kind).toBe('reach-higher')
  })
  test('three each on an unchecked scale: the scale is the first doubt and the next step', () => {
    const study = [...group('a', 20, 21, 22), ...group('b', 40, 41, 42), ...group('c', 60, 61, 62)]
    const { headline, doubts, next } = answer(study, { warnings: UNCHECKED })
    expect(headline).toBe('C holds most.')
    expect(doubts.map(({ text }) => text)).toEqual([
      'The scale was not checked: all may be off alike, the ranking is not.',
      'Only 3 of each: their scatter is hardly known.',
    ])
    expect(next).toMatchObject({ kind: 'check-scale', text: 'Hang a known mass: the scale was not checked.' })
  })
})

describe('what is not decided', () => {
  test('two that cannot be told apart before a third: either is best, their places are open', () => {
    const { headline, ranking } = answer([
      ...group('a', 90, 94, 98, 102),
      ...group('b', 91, 95, 99, 103),
      ...group('c', 10, 12, 14, 16),
    ])
    expect(headline).toBe('B or a holds most: which is not decided.')
    expect(ranking.map(({ name, place }) => [name, placeWords(place)])).toEqual([
      ['b', '1st or 2nd'],
      ['a', '1st or 2nd'],
      ['c', '3rd'],
    ])
    expect(ranking[0]!.difference!.verdict).toBe('undecided')
  })
  test('one specimen of each: too few', () => {
    const { headline, next } = answer([...group('a', 50), ...group('b', 60)])
    expect(headline).toBe('Too few specimens to tell which holds most.')
    expect(next).toMatchObject({ kind: 'pull-more', perGroup: 2 })
  })
  test('nothing measured', () => {
    const study = group('a', 1).map(s => ({ ...s, status: 'not-recorded' as const, value: null }))
    const { headline, ranking, next } = answer(study)
    expect(headline).toBe('Nothing has been measured yet.')
    expect(ranking[0]).toMatchObject({ place: null, value: null })
    expect(next.kind).toBe('pull-first')
  })
  test('variants on different days alone: no order is claimed', () => {
    const on = (day: string, all: Specimen[]) => all.map(s => ({ ...s, block: day, day }))
    const { headline, ranking, next } = answer([...on('mon', stitching), ...on('tue', paste)], {
      blocksBy: 'day',
    })
    expect(headline).toBe('No answer yet: the variants share no day.')
    expect(ranking.every(({ place, difference }) => place === null && difference === null)).toBe(true)
    expect(next.kind).toBe('tie-blocks')
  })
  test('a step that nobody can do is never asked for', () => {
    const wild = (name: string) => group(name, 10, 400, 90, 800, 35)
    const { next } = answer([...wild('a'), ...wild('b').map(s => ({ ...s, value: s.value! + 1 }))])
    expect(next).toMatchObject({ kind: 'less-scatter', perGroup: null })
    expect(next.text).not.toMatch(/\d/)
  })
  test('so alike that a difference that matters would have shown: stop', () => {
    const close = (name: string, by: number) =>
      group(name, ...[100, 100.4, 99.6, 100.2, 99.8].map(v => v + by))
    expect(answer([...close('a', 0), ...close('b', 0.1)]).next.kind).toBe('enough')
  })
})

describe('doubts', () => {
  test('a few that failed otherwise, in the words of the study', () => {
    const modes = hotMelt.map((s, i) => ({ ...s, mode: i === 3 ? 'bag tore' : 'peeled' }))
    const { doubts } = answer([...modes, ...paste.map(s => ({ ...s, mode: 'peeled' }))])
    expect(doubts[0]).toEqual({
      code: 'mixed-modes',
      text: '1 of 5 hot-melt failed otherwise: bag tore.',
    })
  })
  test('scales checked for some are graver than for none', () => {
    const partly = [{ code: 'partly-calibrated', text: 'In 2 of 9 readings …' }]
    expect(answer([...paste, ...stitching], { warnings: [...UNCHECKED, ...partly] }).doubts[0]!.code).toBe(
      'partly-calibrated',
    )
  })
  test('a warning that is not known here is told by its first sentence, last', () => {
    const warnings = [{ code: 'new-one', text: 'Something new at 1.5 N. And more of it.' }, ...UNCHECKED]
    expect(answer([...paste, ...stitching], { warnings }).doubts.at(-1)).toEqual({
      code: 'new-one',
      text: 'Something new at 1.5 N.',
    })
  })
})

const names = fc.uniqueArray(
  fc
    .array(fc.constantFrom('hot', 'Melt', 'glue,', 'at', '200', '°C', 'ü', 'of', 'the second batch'), {
      minLength: 1,
      maxLength: 14,
    })
    .map(words => words.join(' ')),
  { minLength: 1, maxLength: 6 },
)

test('whatever the study, at most twelve words, places within the number of variants, one next step', () => {
  fc.assert(
    fc.property(names, fc.integer({ min: 1, max: 1e6 }), (variants, seed) => {
      let state = seed
      const random = () => {
        state = (state * 1103515245 + 12345) % 2147483648
        return state / 2147483648
      }
      const study = variants.flatMap(name => {
        const middle = random() < 0.4 ? 50 : random() * 100
        return group(
          name,
          ...Array.from({ length: 1 + Math.floor(random() * 5) }, () => middle + random() * 10),
        ).map(s => (random() < 0.15 ? { ...s, status: 'at-least' as const } : s))
      })
      const { headline, ranking, next } = answer(study)
      expect(wordsIn(headline)).toBeLessThanOrEqual(MOST_WORDS)
      expect(ranking.map(({ name }) => name).sort()).toEqual([...variants].sort())
      for (const { place } of ranking) {
        expect(place!.from).toBeLessThanOrEqual(place!.to)
        expect(place!.to).toBeLessThanOrEqual(variants.length)
      }
      expect(next.text).toMatch(/^[^.]*\.$/)
    }),
    { seed: 22, numRuns: 150 },
  )
})

describe('few specimens of some variants', () => {
  const enough = group('stitching', 91, 88, 111, 92, 108)
  const scarce = (count: number) =>
    Array.from({ length: count }, (_, i) => group(`glue ${'abcdef'[i]}`, 40 + i, 41 + i, 43 + i)).flat()
  const said = (count: number) =>
    answer([...enough, ...scarce(count)])
      .doubts.map(({ text }) => text)
      .find(text => text.startsWith('Only 3'))
  test('up to three are named', () => {
    expect(said(1)).toBe('Only 3 of glue a: the scatter is hardly known.')
    expect(said(3)).toBe('Only 3 of glue a, glue b and glue c: the scatter is hardly known.')
  })
  test('more are counted', () => {
    const doubts = answer([...enough, ...scarce(4)]).doubts.map(({ text }) => text)
    expect(doubts).toContain('4 variants have only 3 specimens: their scatter is hardly known.')
  })
})

describe('nothing is called enough that could not have been seen', () => {
  const censored = (name: string, by: number) =>
    group(name, ...[95, 97, 99, 104, 98, 103, 110, 97, 107, 101].map(v => v + by)).map((s, i) => ({
      ...s,
      status: i === 0 || i === 5 ? s.status : ('at-least' as const),
    }))
  test('too few broke so to know their scatter', () => {
    const { next } = answer([...censored('a', 0), ...censored('b', 4)])
    expect(next).toMatchObject({ kind: 'pull-more', perGroup: null })
    expect(next.text).toMatch(/^Pull more of each: too few broke/)
  })
})

test('all groups together are held to the level of the look too', () => {
  const three = ['a', 'b', 'c'].flatMap((name, g) =>
    group(name, ...[0, 0.9, -0.8, 1.1, -1.2, 0.2, 0.4, -0.5].map((v, i) => 40 + v + 0.55 * g + 0.01 * i * g)),
  )
  const single = answer(three)
  const staged = answer(three, { looks: { earlier: [5], planned: 5, stages: null } })
  expect(single.headline).toBe('Not all are alike, but none can be told best.')
  expect(staged.headline).toBe('None can be told from another.')
})
