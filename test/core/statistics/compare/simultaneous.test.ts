import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { comparePair } from '../../../../src/core/statistics/compare/comparePair.ts'
import { judgePairs } from '../../../../src/core/statistics/compare/judgePairs.ts'
import { pairs } from '../../../../src/core/statistics/compare/pairs.ts'
import {
  type Estimate,
  sidak,
  simultaneousHalf,
  simultaneousP,
} from '../../../../src/core/statistics/compare/simultaneous.ts'
import { plainSpecimen, type Specimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { isSeen } from '../../../../src/core/statistics/compare/verdict.ts'
import { normalQuantile } from '../../../../src/core/statistics/distributions/normal.ts'
import { comparisonSchema } from '../../../../src/core/statistics/document.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'
import { groupsOf } from './reference.ts'

const group = (name: string, values: Iterable<number>): Specimen[] =>
  [...values].map((value, i) => plainSpecimen(`${name} ${i + 1}`, name, value))
const compare = (specimens: readonly Specimen[], options = {}) =>
  compareGroups(specimens, { quantity: 'peakForce', unit: 'N', ...options })

/** Five variants that are alike, with scatters of their own. */
const alike = (seed: number, n = 4): Specimen[] => {
  const random = seededRandom(seed)
  return [1, 1, 2, 1, 0.5].flatMap((sd, g) =>
    group(
      `g${g}`,
      Array.from({ length: n }, () => 20 + sd * random.normal()),
    ),
  )
}

describe('an interval leaves 0 out exactly where the pair is called different', () => {
  const raised = (seed: number): Specimen[] =>
    alike(seed).map(s => ({ ...s, value: s.value! + (seed % 2) * Number(s.group[1]) * 0.8 }))

  test('in 40 studies of five variants, alike and not', () => {
    for (let seed = 0; seed < 40; seed++) {
      const specimens = raised(seed)
      const groups = [0, 1, 2, 3, 4].map(g => ({
        name: `g${g}`,
        specimens: specimens.filter(s => s.group === `g${g}`),
      }))
      const tests = pairs(5).map(([a, b]) => ({
        a,
        b,
        tests: comparePair(groups[a]!.specimens, groups[b]!.specimens, {
          adjusted: null,
          seed: 1,
        }),
      }))
      for (const pair of judgePairs(groups, tests, { isUntied: false, worthShare: null }).pairs)
        expect(pair.ci95![0] > 0 || pair.ci95![1] < 0).toBe(isSeen(pair))
    }
  })

  test('in the document, with p and verdict', () => {
    for (const { ci95, seen, pAdjusted, verdict } of [
      ...compare(raised(1)).pairs,
      ...compare(raised(2)).pairs,
    ]) {
      expect(ci95![0] > 0 || ci95![1] < 0).toBe(seen)
      expect(pAdjusted! < 0.05).toBe(seen)
      expect(verdict).toBe(seen ? 'different' : 'undecided')
    }
  })

  test('with blocks and with a scale that is not shared', () => {
    const rigged = alike(7, 6).map((s, i) => ({
      ...s,
      value: s.value! + Number(s.group[1]),
      block: ['mon', 'tue', 'wed'][i % 3]!,
      parts: [{ source: 'scale', standard: 0.02 * s.value!, shared: 'rig' as const }],
    }))
    for (const blocksBy of [null, 'day']) {
      for (const { ci95, seen } of compare(rigged, { blocksBy }).pairs)
        expect(ci95![0] > 0 || ci95![1] < 0).toBe(seen)
    }
  })
})

describe('the simultaneous half-width', () => {
  const estimate: Estimate = { difference: 3, standardError: 1, df: 8, shared: 0 }
  test('is the studentized maximum modulus times the standard error (2.958009 by SciPy 1.17.1, see its own test)', () => {
    expect(simultaneousHalf(estimate, { count: 3, level: 0.05 })).toBeCloseTo(2.958009, 6)
    expect(simultaneousP(estimate, { count: 3 })).toBeCloseTo(0.0469763, 7)
  })
  test('takes a shared doubt in as a normal part of its own', () => {
    const shared = { ...estimate, shared: 0.5 }
    const normal = normalQuantile(1 - (1 - 0.95 ** (1 / 3)) / 2)
    expect(simultaneousHalf(shared, { count: 3, level: 0.05 })).toBeCloseTo(
      Math.hypot(2.958009, 0.5 * normal),
      6,
    )
    const p = simultaneousP(shared, { count: 3 })
    expect(simultaneousHalf(shared, { count: 3, level: p })).toBeCloseTo(3, 9)
  })
  test('p and interval are one statement, whatever the figures', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 9, noNaN: true }),
        fc.double({ min: 1, max: 40, noNaN: true }),
        fc.double({ min: 0, max: 3, noNaN: true }),
        fc.integer({ min: 1, max: 10 }),
        (difference, df, shared, count) => {
          const one = { difference, standardError: 1, df, shared }
          const half = simultaneousHalf(one, { count, level: 0.05 })
          if (Math.abs(half - difference) < 1e-9) return
          expect(simultaneousP(one, { count }) < 0.05).toBe(half < difference)
        },
      ),
      { seed: 21, numRuns: 60 },
    )
  })
  test('ranks alone are adjusted after Šidák', () => {
    expect(sidak(0.02, 3)).toBeCloseTo(1 - 0.98 ** 3, 12)
    expect(sidak(0.02, 1)).toBeCloseTo(0.02, 15)
  })
})

describe('as good as', () => {
  const plants = groupsOf('r_plantgrowth.csv', 'weight', 'group')
  const two = [...group('ctrl', plants.get('ctrl')!), ...group('trt1', plants.get('trt1')!)]

  test('the 90 % interval of Welch: SciPy 1.17.1, ttest_ind(ctrl, trt1, equal_var=False).confidence_interval(0.9)', () => {
    const { equivalence } = compare(two, { worthShare: 0.2 }).pairs[0]!
    expect(equivalence!.ci90[0]).toBeCloseTo(-0.171674293094642, 9)
    expect(equivalence!.ci90[1]).toBeCloseTo(0.913674293094641, 9)
    // Mean of the means 5.032 and 4.661.
    expect(equivalence!.margin).toBeCloseTo(0.2 * 4.8465, 12)
    expect(equivalence!.shown).toBe(true)
  })
  test('is shown only where the whole interval lies within the margin, and only where somebody said what matters', () => {
    expect(compare(two, { worthShare: 0.189 }).pairs[0]!.verdict).toBe('equivalent')
    expect(compare(two, { worthShare: 0.188 }).pairs[0]!.verdict).toBe('undecided')
    expect(compare(two).pairs[0]).toMatchObject({ verdict: 'undecided', equivalence: null })
  })
  test('in words: as good as, with margin and interval; nothing more is asked for', () => {
    const { verdict, needMore, notShown } = compare(two, { worthShare: 0.2 })
    expect(verdict).toBe(
      'ctrl is as good as trt1: their means differ by less than 20 %, 0.969 N (90 % interval of the difference −0.17 to 0.91 N).',
    )
    expect({ needMore, notShown }).toEqual({ needMore: null, notShown: null })
  })
  test('a difference that is seen but too small to matter is told as both', () => {
    const close = [...group('a', [10, 10.1, 10.2, 9.9, 10]), ...group('b', [10.4, 10.5, 10.3, 10.4, 10.5])]
    const { verdict, pairs } = compare(close, { worthShare: 0.1 })
    expect(pairs[0]).toMatchObject({ verdict: 'different', equivalence: { shown: true } })
    expect(verdict).toMatch(
      /^b holds more than a: by 0.38 N .*, which is less than the 1.02 N said to matter/,
    )
  })
  test('too little data never make it', () => {
    const few = [...group('a', [10, 10.5]), ...group('b', [10.2, 10.4])]
    const { verdict } = compare(few, { worthShare: 0.1 })
    expect(verdict).toMatch(/^Not decided between a and b/)
  })
})

test('a group that shows no scatter is taken to scatter like the other', () => {
  const { pairs } = compare([...group('flat', [12, 12, 12]), ...group('other', [9.6, 10.4, 10])])
  // sd 0.4 in both: 2 / (0.4 √(1/3 + 1/3)), and 4 degrees of freedom.
  expect(pairs[0]!.t).toBeCloseTo(2 / (0.4 * Math.sqrt(2 / 3)), 9)
  expect(pairs[0]!.df).toBeCloseTo(4, 9)
})

describe('scatter that is nothing but rounding is none', () => {
  test('distances from the median that are all alike do not “scatter otherwise” by their last binary digit', () => {
    const { overall, warnings } = compare([
      ...group('a', [10.1, 10.1, 10.3, 10.3]),
      ...group('b', [17.7, 17.7, 18.4, 18.4]),
    ])
    expect(overall!.levene).toBeNull()
    expect(warnings.map(w => w.code)).not.toContain('unequal-scatter')
  })
  test('values that are alike but for their last binary digit make no test and no figure of scatter', () => {
    const [low, high] = [10.3, 12.1]
    const found = compare([...group('a', [low, low - 2e-15, low]), ...group('b', [high, high, high + 2e-15])])
    expect(found.overall).toMatchObject({ anova: null, welch: null, levene: null })
    expect(found.pairs[0]).toMatchObject({
      t: null,
      effect: null,
      tukey: null,
      gamesHowell: null,
      seen: false,
    })
    for (const one of found.groups) expect(one).toMatchObject({ sd: 0, ci95: null, sd95: null })
    expect(found.warnings.map(w => w.code)).toEqual(['no-scatter', 'no-scatter'])
    expect(found.verdict).toMatch(/do not scatter at all/)
  })
  test('beside one such group the other’s scatter counts for both', () => {
    const { pairs, overall } = compare([
      ...group('a', [10.3, 10.3 - 2e-15, 10.3]),
      ...group('b', [12.1, 12.3, 12.2]),
    ])
    expect(overall!.welch).toBeNull()
    // sd 0.1 in both: 1.9 / (0.1 √(1/3 + 1/3)).
    expect(pairs[0]!.t).toBeCloseTo(-1.9 / (0.1 * Math.sqrt(2 / 3)), 6)
  })
})

test('two against two never “do not scatter alike”: their distances from the median differ by rounding alone', () => {
  const { overall, warnings } = compare([...group('a', [10.1, 10.3]), ...group('b', [17.7, 18.4])])
  expect(overall!.levene).toBeNull()
  expect(warnings.map(w => w.code)).not.toContain('unequal-scatter')
})

test('a comparison keeps the shape of its schema with all of it', () => {
  const document = compare(alike(3), { worthShare: 0.1 })
  const plain = JSON.parse(JSON.stringify(document))
  expect(comparisonSchema.parse(plain)).toEqual(plain)
})
