import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { hedges } from '../../../../src/core/statistics/compare/hedges.ts'
import { mannWhitney } from '../../../../src/core/statistics/compare/mannWhitney.ts'
import { permutationTest } from '../../../../src/core/statistics/compare/permutation.ts'
import { superiority } from '../../../../src/core/statistics/compare/superiority.ts'
import { welch } from '../../../../src/core/statistics/compare/welch.ts'
import { digits, groupsOf, referenceJson, rResult } from './reference.ts'

const of = (...values: number[]) => Float64Array.from(values)
const a = of(11.46, 8.66, 9.88)
const b = of(14.1, 12.3, 13.9, 15.2)
const c = of(10.2, 10.9, 12.8, 11.1, 9.7)

function pairOf(file: string, value: string, by: string, first: string, second: string) {
  const groups = groupsOf(file, value, by)
  return [groups.get(first)!, groups.get(second)!] as const
}

/** R: t.test(value ~ group); the calls stand in dataset_reference_results.json. */
const welchCases = [
  ['sleep_welch', pairOf('r_sleep.csv', 'extra', 'group', '1', '2')],
  ['warpbreaks_wool_welch', pairOf('r_warpbreaks.csv', 'breaks', 'wool', 'A', 'B')],
  ['ceramic_welch_batch', pairOf('nist_ceramic_strength.csv', 'strength', 'batch', '1', '2')],
] as const

describe('welch', () => {
  for (const [id, [x, y]] of welchCases)
    test(`agrees with R on ${id}`, () => {
      const { t, dof, p, ci95 } = rResult(id)
      const mine = welch(x, y)!
      for (const [value, published] of [
        [mine.t, t],
        [mine.df, dof],
        [mine.p, p],
        [mine.ci95[0], ci95[0]],
        [mine.ci95[1], ci95[1]],
      ])
        expect(digits(value!, published!)).toBeGreaterThan(10.5)
    })

  test('agrees with SciPy: ttest_ind(a, b, equal_var=False), confidence_interval()', () => {
    const mine = welch(a, b)!
    expect(mine.t).toBeCloseTo(-3.847729660480514, 12)
    expect(mine.df).toBeCloseTo(3.981882935247032, 12)
    expect(mine.p).toBeCloseTo(0.018494074100095004, 12)
    expect(mine.ci95[0]).toBeCloseTo(-6.676147298653582, 11)
    expect(mine.ci95[1]).toBeCloseTo(-1.0738527013464174, 11)
  })

  test('a single specimen, or no scatter at all, has no test', () => {
    expect(welch(of(1), b)).toBeNull()
    expect(welch(of(2, 2), of(3, 3))).toBeNull()
  })
})

describe('mannWhitney', () => {
  const { table } = referenceJson('nonparametric_and_normality.json').mann_whitney_critical_U

  test('rejects at exactly the tabulated U (Mann and Whitney 1947), sizes 3 to 10', () => {
    for (const [m, row] of Object.entries(
      table as Record<string, Record<string, Record<string, number | null>>>,
    ))
      for (const [n, limits] of Object.entries(row))
        for (const level of [0.05, 0.01]) {
          const critical = limits[`two_sided_${level}`] ?? -1
          const pAt = (u: number) => mannWhitney(...arranged(Number(m), Number(n), u))!.p
          if (critical >= 0) expect(pAt(critical), `${m}, ${n}, U = ${critical}`).toBeLessThanOrEqual(level)
          expect(pAt(critical + 1), `${m}, ${n}, U = ${critical + 1}`).toBeGreaterThan(level)
        }
  })

  test('says the smallest p that the sizes allow', () => {
    const smallest = referenceJson('nonparametric_and_normality.json').mann_whitney_smallest_two_sided_p
      .values
    for (const [sizes, p] of Object.entries(smallest as Record<string, number>)) {
      const [m, n] = sizes.split(',').map(Number)
      expect(mannWhitney(...arranged(m!, n!, 1))!.smallestP).toBeCloseTo(p, 11)
    }
  })

  test('the example of the reference: U = 3, p = 0.0556', () => {
    const { x, y, U_x, p_exact_two_sided } = referenceJson(
      'nonparametric_and_normality.json',
    ).mann_whitney_example
    const mine = mannWhitney(of(...x), of(...y))!
    expect(mine.u).toBe(U_x)
    expect(mine.p).toBeCloseTo(p_exact_two_sided, 12)
  })

  test('exact with ties agrees with R exactRanktests on sleep', () => {
    const mine = mannWhitney(...pairOf('r_sleep.csv', 'extra', 'group', '1', '2'))!
    const { statistic, p } = rResult('sleep_wilcoxon_exact_ties')
    expect(mine).toMatchObject({ u: statistic, method: 'exact' })
    expect(digits(mine.p, p)).toBeGreaterThan(10.5)
  })

  test('normal with tie and continuity correction agrees with R on the ceramic and warp data', () => {
    for (const [id, pair] of [
      ['ceramic_mannwhitney', pairOf('nist_ceramic_strength.csv', 'strength', 'batch', '1', '2')],
      ['warpbreaks_wool_mannwhitney', pairOf('r_warpbreaks.csv', 'breaks', 'wool', 'A', 'B')],
    ] as const) {
      const mine = mannWhitney(...pair)!
      const { statistic, p } = rResult(id)
      expect(mine.u).toBe(statistic)
      if (mine.method === 'normal') expect(digits(mine.p, p)).toBeGreaterThan(10)
      else expect(Math.abs(mine.p - p)).toBeLessThan(0.01)
    }
  })

  test('a specimen that holds at least so much beats what is below its bound, and nothing beats it', () => {
    // Pairs of 5+ with 4, 6, 7: won, not told, not told; of 8: won all. U = 1 + ½ + ½ + 3.
    expect(mannWhitney(of(5, 8), of(4, 6, 7), [true, false])!.u).toBe(5)
    // Two bounds cannot be told from each other.
    expect(mannWhitney(of(5), of(9), [true], [true])!.u).toBe(0.5)
  })

  test('with all values alike nothing is seen', () => {
    expect(mannWhitney(of(3, 3, 3), of(3, 3))!.p).toBe(1)
    expect(mannWhitney(new Float64Array(300).fill(2), new Float64Array(300).fill(2))!.p).toBe(1)
  })
})

/** Two groups without ties in which the first wins exactly `u` pairs. */
function arranged(m: number, n: number, u: number): [Float64Array, Float64Array] {
  const first = Array.from({ length: m }, (_, i) => i - m)
  let left = u
  for (let i = m - 1; i >= 0 && left > 0; i--) {
    const won = Math.min(n, left)
    first[i] = won + (i + 1) / (m + 2)
    left -= won
  }
  return [Float64Array.from(first), Float64Array.from({ length: n }, (_, j) => j + 1)]
}

describe('permutationTest', () => {
  test('exact agrees with SciPy: permutation_test((b, c), |difference of means|, alternative="greater", n_resamples=inf)', () => {
    expect(permutationTest(b, c)).toMatchObject({
      p: 0.023809523809523808,
      arrangements: 126,
      method: 'exact',
    })
    expect(permutationTest(a, b)).toMatchObject({ p: 1 / 35, arrangements: 35 })
  })

  test('at random the same seed gives the same p, near that of the t test on sleep', () => {
    const pair = pairOf('r_sleep.csv', 'extra', 'group', '1', '2')
    const mine = permutationTest(...pair, 7)!
    expect(mine).toEqual(permutationTest(...pair, 7))
    expect(mine.method).toBe('random')
    // 0.0814 by scipy.stats.permutation_test over all 184,756 splits.
    expect(Math.abs(mine.p - 0.0814)).toBeLessThan(0.01)
  })

  test('is never 0', () => {
    const low = Float64Array.from({ length: 12 }, (_, i) => i)
    expect(
      permutationTest(
        low,
        low.map(v => v + 100),
      )!.p,
    ).toBeCloseTo(1 / 10_000, 12)
  })
})

describe('hedges', () => {
  test('agrees with SciPy: gammaln for J, brentq on stats.nct.cdf for the interval', () => {
    const mine = hedges(a, b)!
    expect(mine.hedgesG).toBeCloseTo(-2.5394913300392523, 10)
    expect(mine.ci95[0]).toBeCloseTo(-5.32186115590726, 7)
    expect(mine.ci95[1]).toBeCloseTo(-0.6158207441008743, 7)
  })
})

describe('superiority', () => {
  test('is the share of pairs won', () => {
    expect(superiority(of(2, 4), of(1, 3, 4))!.chance).toBeCloseTo((1 + 0 + 0 + 1 + 1 + 0.5) / 6, 12)
  })
  test('three out of three is not certainty', () => {
    const { chance, ci95 } = superiority(of(4, 5, 6), of(1, 2, 3))!
    expect(chance).toBe(1)
    // The rank test of three against three cannot come under 0.1, so an even chance must stay inside.
    expect(ci95[0]).toBeGreaterThan(0.2)
    expect(ci95[0]).toBeLessThan(0.5)
    expect(ci95[1]).toBe(1)
  })
})

describe('whatever the values', () => {
  const group = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 2, maxLength: 7 })
  const seeded = { seed: 20, numRuns: 200 }

  test('swapping the groups turns signs and keeps p', () => {
    fc.assert(
      fc.property(group, group, (x, y) => {
        const [p, q] = [of(...x), of(...y)]
        expect(mannWhitney(p, q)!.p).toBeCloseTo(mannWhitney(q, p)!.p, 10)
        expect(mannWhitney(p, q)!.u + mannWhitney(q, p)!.u).toBe(x.length * y.length)
        expect(permutationTest(p, q)!.p).toBeCloseTo(permutationTest(q, p)!.p, 10)
        const [one, other] = [welch(p, q), welch(q, p)]
        expect(one?.t ?? 0).toBeCloseTo(-(other?.t ?? 0), 8)
        expect(superiority(p, q)!.chance).toBeCloseTo(1 - superiority(q, p)!.chance, 10)
        const [g, h] = [hedges(p, q), hedges(q, p)]
        expect(g?.hedgesG ?? 0).toBeCloseTo(-(h?.hedgesG ?? 0), 8)
        if (g && h) expect(g.ci95[0]).toBeCloseTo(-h.ci95[1], 6)
      }),
      seeded,
    )
  })

  test('shifting all values, scaling them or changing their order changes no test', () => {
    fc.assert(
      fc.property(
        group,
        group,
        fc.integer({ min: -5000, max: 5000 }),
        fc.integer({ min: 1, max: 8 }),
        (x, y, shift, power) => {
          const moved = (v: number) => (v + shift) * 2 ** power
          const [p, q] = [of(...x), of(...y)]
          const [p2, q2] = [of(...x.toReversed().map(moved)), of(...y.toReversed().map(moved))]
          expect(mannWhitney(p2, q2)).toEqual(mannWhitney(p, q))
          expect(permutationTest(p2, q2)!.p).toBeCloseTo(permutationTest(p, q)!.p, 10)
          const [one, other] = [welch(p, q), welch(p2, q2)]
          expect(other === null).toBe(one === null)
          if (one && other) {
            expect(other.t).toBeCloseTo(one.t, 8)
            expect(other.ci95[0]).toBeCloseTo(one.ci95[0] * 2 ** power, 5)
          }
        },
      ),
      seeded,
    )
  })
})
