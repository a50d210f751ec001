import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { oneWayAnova } from '../../../../src/core/statistics/compare/anova.ts'
import { twoWayLayout } from '../../../../src/core/statistics/compare/blocks.ts'
import { kruskalWallis } from '../../../../src/core/statistics/compare/kruskalWallis.ts'
import { levene } from '../../../../src/core/statistics/compare/levene.ts'
import { trendWithOrder } from '../../../../src/core/statistics/compare/trend.ts'
import { gamesHowell, tukeyKramer } from '../../../../src/core/statistics/compare/tukey.ts'
import { welch } from '../../../../src/core/statistics/compare/welch.ts'
import { welchAnova } from '../../../../src/core/statistics/compare/welchAnova.ts'
import { digits, groupsOf, referenceJson, rowsOf, rResult } from './reference.ts'

const of = (...values: number[]) => Float64Array.from(values)
const a = of(11.46, 8.66, 9.88)
const b = of(14.1, 12.3, 13.9, 15.2)
const c = of(10.2, 10.9, 12.8, 11.1, 9.7)
const plants = [...groupsOf('r_plantgrowth.csv', 'weight', 'group').values()]
const insects = [...groupsOf('r_insectsprays.csv', 'count', 'spray').values()]
const gravity = [...groupsOf('boot_gravity.csv', 'g', 'series').values()]
const tensions = [...groupsOf('r_warpbreaks.csv', 'breaks', 'tension').values()]
const example = (id: string) =>
  referenceJson('nist_handbook_examples.json').examples.find((e: { id: string }) => e.id === id)

describe('oneWayAnova on the NIST sets (StRD, certified; values as text in nist_strd_anova.json)', () => {
  // What doubles can hold sets the digits of F: SmLs04 has 7 and SmLs07 13 constant leading digits.
  const reached: Record<string, number> = { SiRstv: 12.5, AtmWtAg: 9.5, SmLs01: 14, SmLs04: 10, SmLs07: 4 }
  for (const set of referenceJson('nist_strd_anova.json').sets)
    test(`${set.name}: at least ${reached[set.name]} digits of F`, () => {
      const groups = set.groups_as_text.map((text: string) => of(...text.split(' ').map(Number)))
      const mine = oneWayAnova(groups)!
      expect([mine.df1, mine.df2]).toEqual(set.certified.df)
      expect(digits(mine.f, Number(set.certified.F))).toBeGreaterThan(reached[set.name]!)
      expect(digits(mine.residualSd, Number(set.certified.residual_sd))).toBeGreaterThan(reached[set.name]!)
      expect(digits(mine.ssBetween, Number(set.certified.ss_between))).toBeGreaterThan(reached[set.name]!)
    })
})

describe('worked examples of the NIST/SEMATECH e-Handbook', () => {
  test('gear diameters (1.3.5.4, 1.3.5.10): F 2.2969, Brown–Forsythe W 1.70591', () => {
    const { data, recomputed, published } = example('one_way_anova_levene_bartlett_gear')
    const groups = data.map((g: number[]) => of(...g))
    const anova = oneWayAnova(groups)!
    expect(anova.f).toBeCloseTo(published.anova.F, 4)
    expect(digits(anova.p, recomputed.anova.p)).toBeGreaterThan(9)
    const spread = levene(groups)!
    expect(spread.w).toBeCloseTo(published.levene_median_W, 4)
    expect(digits(spread.p, recomputed.levene_median.p)).toBeGreaterThan(9)
    const ranks = kruskalWallis(groups)!
    expect(digits(ranks.h, recomputed.kruskal_wallis.H)).toBeGreaterThan(10)
  })
  test('three groups of five (7.4.3.3): F 9.59 and Tukey', () => {
    const { data, recomputed } = example('one_way_anova_three_groups')
    const groups = data.map((g: number[]) => of(...g))
    expect(digits(oneWayAnova(groups)!.p, recomputed.p)).toBeGreaterThan(10)
    for (const pair of tukeyKramer(groups)!) {
      const name = `${pair.a + 1}-${pair.b + 1}`
      expect(digits(pair.p, recomputed.tukey_hsd_p[name])).toBeGreaterThan(8)
      expect(digits(pair.ci95[0], recomputed.tukey_ci95[name][0])).toBeGreaterThan(8)
    }
  })
  test('miles per gallon (1.3.5.3): Welch t −12.94627, 136.875 degrees of freedom, from groups made to have those moments', () => {
    const { data, recomputed } = example('two_sample_t_auto_mpg')
    const mine = welch(
      withMoments(data.n1, data.mean1, data.sd1),
      withMoments(data.n2, data.mean2, data.sd2),
    )!
    expect(digits(mine.t, recomputed.welch.T)).toBeGreaterThan(9)
    expect(digits(mine.df, recomputed.welch.dof)).toBeGreaterThan(9)
    expect(digits(mine.ci95[0], recomputed.welch.ci95_of_difference[0])).toBeGreaterThan(9)
  })
})

/** Any values with this mean and standard deviation. */
function withMoments(n: number, mean: number, sd: number): Float64Array {
  const raw = Float64Array.from({ length: n }, (_, i) => i - (n - 1) / 2)
  const scale = sd / Math.sqrt(raw.reduce((s, v) => s + v * v, 0) / (n - 1))
  return raw.map(v => mean + v * scale)
}

describe('against R (calls in dataset_reference_results.json)', () => {
  test('analysis of variance', () => {
    expect(digits(oneWayAnova(plants)!.p, rResult('plantgrowth_anova').p)).toBeGreaterThan(10)
    expect(digits(oneWayAnova(tensions)!.p, rResult('warpbreaks_anova_tension').p)).toBeGreaterThan(10)
  })
  test('Welch', () => {
    for (const [groups, id] of [
      [plants, 'plantgrowth_welch_anova'],
      [gravity, 'gravity_welch_anova'],
    ] as const) {
      const mine = welchAnova(groups)!
      const { statistic, parameter, p } = rResult(id)
      expect(digits(mine.f, statistic)).toBeGreaterThan(10)
      expect(digits(mine.df2, parameter[1]!)).toBeGreaterThan(10)
      expect(digits(mine.p, p)).toBeGreaterThan(10)
    }
  })
  test('Kruskal–Wallis, ties and all', () => {
    for (const [groups, id] of [
      [plants, 'plantgrowth_kruskal'],
      [insects, 'insectsprays_kruskal'],
      [gravity, 'gravity_kruskal'],
    ] as const) {
      const mine = kruskalWallis(groups)!
      expect(digits(mine.h, rResult(id).statistic)).toBeGreaterThan(10)
      expect(digits(mine.p, rResult(id).p)).toBeGreaterThan(10)
    }
  })
  test('Brown–Forsythe', () => {
    expect(digits(levene(plants)!.p, rResult('plantgrowth_levene_median').p)).toBeGreaterThan(10)
    expect(digits(levene(gravity)!.w, rResult('gravity_levene_median').F)).toBeGreaterThan(10)
  })
  test('Tukey, to the digits that R carries', () => {
    const names = [...groupsOf('r_plantgrowth.csv', 'weight', 'group').keys()]
    for (const pair of tukeyKramer(plants)!) {
      const theirs = rResult('plantgrowth_tukey')[`${names[pair.b]}-${names[pair.a]}`]! as Record<
        string,
        number
      >
      expect(-pair.difference).toBeCloseTo(theirs.diff!, 10)
      expect(-pair.ci95[1]).toBeCloseTo(theirs.lwr!, 8)
      expect(pair.p).toBeCloseTo(theirs.p!, 8)
    }
  })
  test('Tukey of six groups, p down to 1e-10', () => {
    const letters = 'ABCDEF'
    for (const pair of tukeyKramer(insects)!) {
      const theirs = rResult('insectsprays_tukey')[`${letters[pair.b]}-${letters[pair.a]}`]! as Record<
        string,
        number
      >
      expect(Math.abs(pair.p - theirs.p!)).toBeLessThan(1e-9)
    }
  })
  test('a balanced two-way layout (tension within wool): TukeyHSD(aov(breaks ~ wool + tension)), its differences', () => {
    const rows = rowsOf('r_warpbreaks.csv')
    const layout = twoWayLayout(
      rows.map(r => ({
        group: 'LMH'.indexOf(r.tension!),
        block: 'AB'.indexOf(r.wool!),
        value: Number(r.breaks),
      })),
    )
    if (layout === null || layout === 'untied') throw new Error('no layout')
    const theirs = rResult('warpbreaks_tukey')['H-L']! as Record<string, number>
    expect(layout.groups.df2).toBe(50)
    expect(-layout.pairs.find(p => p.a === 0 && p.b === 2)!.difference).toBeCloseTo(theirs.diff!, 10)
  })
})

describe('against SciPy 1.17.1', () => {
  test('Games–Howell: tukey_hsd(a, b, c, equal_var=False)', () => {
    const [ab, ac, bc] = gamesHowell([a, b, c])!
    expect(ab!.p).toBeCloseTo(0.039565824098878544, 9)
    expect(ac!.p).toBeCloseTo(0.6324449978115936, 9)
    expect(bc!.p).toBeCloseTo(0.021048744073534076, 9)
    expect(ab!.ci95[0]).toBeCloseTo(-7.471831131029047, 7)
    expect(bc!.ci95[1]).toBeCloseTo(5.325514641102808, 7)
  })
  test('Tukey–Kramer with unequal numbers: tukey_hsd(a, b, c)', () => {
    const [ab, ac, bc] = tukeyKramer([a, b, c])!
    expect(ab!.p).toBeCloseTo(0.0068146521491214695, 9)
    expect(ac!.ci95[1]).toBeCloseTo(1.5849410762133984, 7)
    expect(bc!.ci95[0]).toBeCloseTo(0.6156935247562587, 7)
  })
  test('Welch: f_oneway(a, b, c, equal_var=False)', () => {
    expect(welchAnova([a, b, c])!.f).toBeCloseTo(8.651091977252966, 11)
    expect(welchAnova([a, b, c])!.p).toBeCloseTo(0.02432506412819771, 11)
  })
  test('unbalanced two-way layout: NumPy lstsq, type II squares, stats.f.sf and stats.t.sf', () => {
    const group = [0, 0, 0, 1, 1, 1, 2, 2, 2, 0, 1]
    const block = [0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 2]
    const values = [10.1, 12.2, 13.0, 11.5, 13.9, 14.8, 9.2, 11.1, 12.5, 10.6, 14.1]
    const layout = twoWayLayout(values.map((value, i) => ({ group: group[i]!, block: block[i]!, value })))
    if (layout === null || layout === 'untied') throw new Error('no layout')
    expect(layout.groups.f).toBeCloseTo(42.69884501326672, 9)
    expect(layout.groups.p).toBeCloseTo(0.0002829098656352985, 12)
    expect(layout.blocks.f).toBeCloseTo(75.4397924145465, 9)
    expect(layout.residualSd).toBeCloseTo(0.3309401267923967, 12)
    const [ab, ac, bc] = layout.pairs
    expect(ab!.difference).toBeCloseTo(-1.3733333333333344, 11)
    expect(ab!.p).toBeCloseTo(0.0012806191169342995, 11)
    expect(ac!.difference).toBeCloseTo(0.9517948717948743, 11)
    expect(bc!.p).toBeCloseTo(9.834031020884685e-5, 12)
  })
  test('slope on run order with a mean for each group: NumPy lstsq', () => {
    const trend = trendWithOrder([
      { values: a, order: of(1, 5, 8) },
      { values: b, order: of(2, 4, 9, 11) },
      { values: c, order: of(3, 6, 7, 10, 12) },
    ])!
    expect(trend.slope).toBeCloseTo(0.00023646873358719, 10)
    expect(trend.p).toBeCloseTo(0.9984316662904846, 10)
    expect(trend.df).toBe(8)
  })
})

describe('the two-way layout', () => {
  test('a group that shares no block with the others, even by way of a control, is untied', () => {
    const cell = (group: number, block: number, value: number) => ({ group, block, value })
    const apart = [cell(0, 0, 1), cell(0, 0, 2), cell(1, 1, 5), cell(1, 1, 6)]
    expect(twoWayLayout(apart)).toBe('untied')
    // A control pulled on both days ties them: day 2 runs 10 high, and the difference is 1 again.
    const control = [cell(2, 0, 0), cell(2, 0, 0.2), cell(2, 1, 10), cell(2, 1, 10.2)]
    const tied = twoWayLayout([cell(0, 0, 1), cell(0, 0, 1.2), cell(1, 1, 12), cell(1, 1, 12.2), ...control])
    if (tied === null || tied === 'untied') throw new Error('should be tied')
    expect(tied.pairs.find(p => p.a === 0 && p.b === 1)!.difference).toBeCloseTo(-1, 10)
  })
  test('an effect of the block added to all values of a block changes no difference', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 99 }), { minLength: 12, maxLength: 12 }),
        fc.integer({ min: -500, max: 500 }),
        (values, day) => {
          const cells = values.map((value, i) => ({ group: i % 3, block: Math.floor(i / 6), value }))
          const moved = cells.map(o => ({ ...o, value: o.value + (o.block === 1 ? day : 0) }))
          const [one, other] = [twoWayLayout(cells), twoWayLayout(moved)]
          if (one === null || other === null || one === 'untied' || other === 'untied') return
          for (const [i, pair] of one.pairs.entries())
            expect(other.pairs[i]!.difference).toBeCloseTo(pair.difference, 8)
        },
      ),
      { seed: 21, numRuns: 100 },
    )
  })
})
