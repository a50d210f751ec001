import { describe, expect, test } from 'vitest'
import { twoWayLayout } from '../../../../src/core/statistics/compare/blocks.ts'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { hedges } from '../../../../src/core/statistics/compare/hedges.ts'
import { mannWhitney } from '../../../../src/core/statistics/compare/mannWhitney.ts'
import { permutationTest } from '../../../../src/core/statistics/compare/permutation.ts'
import { plainSpecimen, type Specimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { superiority } from '../../../../src/core/statistics/compare/superiority.ts'
import { trendWithOrder } from '../../../../src/core/statistics/compare/trend.ts'
import { gamesHowell, tukeyKramer } from '../../../../src/core/statistics/compare/tukey.ts'
import { welch } from '../../../../src/core/statistics/compare/welch.ts'
import { normalCdf } from '../../../../src/core/statistics/distributions/normal.ts'
import { nominalLevels } from '../../../../src/core/statistics/plan/boundaries.ts'
import { powerOf } from '../../../../src/core/statistics/plan/power.ts'
import { type Random, seededRandom } from '../../../../src/core/statistics/random.ts'

const RUNS = 10_000
/** Studentized-range quantiles and non-central t inversions take milliseconds each: fewer runs. */
const DEAR_RUNS = 2_000

const normals = (random: Random, n: number, mean = 0, sd = 1): Float64Array =>
  Float64Array.from({ length: n }, () => mean + sd * random.normal())

/** Share of the runs in which `holds` does. */
function share(runs: number, seed: number, holds: (random: Random) => boolean): number {
  const random = seededRandom(seed)
  let held = 0
  for (let run = 0; run < runs; run++) if (holds(random)) held++
  return held / runs
}
const inside = ([low, high]: readonly [number, number], value: number) => low <= value && value <= high

/** Three standard errors of a share of 0.95 over so many runs. */
const noise = (runs: number) => 3 * Math.sqrt((0.95 * 0.05) / runs)

describe('95 % intervals hold the truth 95 times in 100', () => {
  test.each([
    { nA: 3, nB: 3, sdB: 1, low: 0.945, high: 0.985 },
    { nA: 5, nB: 5, sdB: 3, low: 0.94, high: 0.96 },
    { nA: 4, nB: 10, sdB: 0.3, low: 0.935, high: 0.96 },
    { nA: 10, nB: 10, sdB: 1, low: 0.945, high: 0.957 },
  ])('Welch, $nA and $nB, scatter 1 and $sdB', ({ nA, nB, sdB, low, high }) => {
    const covered = share(RUNS, 1, r => inside(welch(normals(r, nA, 5), normals(r, nB, 3, sdB))!.ci95, 2))
    expect(covered).toBeGreaterThan(low)
    expect(covered).toBeLessThan(high)
  })

  test('a difference within blocks that move by ten times the scatter', () => {
    const covered = share(RUNS, 2, r => {
      const blocks = normals(r, 4, 0, 10)
      const cells = Array.from({ length: 12 }, (_, i) => ({ group: i % 3, block: Math.floor(i / 3) }))
      const layout = twoWayLayout(
        cells.map(c => ({ ...c, value: blocks[c.block]! + c.group * 2 + r.normal() })),
      )
      if (layout === null || layout === 'untied') throw new Error('no layout')
      return inside(layout.pairs[1]!.ci95, -4)
    })
    expect(Math.abs(covered - 0.95)).toBeLessThan(noise(RUNS))
  })

  test('the slope on run order', () => {
    const order = Float64Array.of(1, 4, 5, 8)
    const other = Float64Array.of(2, 3, 6, 7)
    const covered = share(RUNS, 3, r => {
      const values = (o: Float64Array, mean: number) => o.map(at => mean + 0.3 * at + r.normal())
      return inside(
        trendWithOrder([
          { values: values(order, 5), order },
          { values: values(other, 9), order: other },
        ])!.ci95,
        0.3,
      )
    })
    expect(Math.abs(covered - 0.95)).toBeLessThan(noise(RUNS))
  })

  test('Hedges’s g: the population’s difference in units of its scatter', () => {
    const covered = share(DEAR_RUNS, 4, r => inside(hedges(normals(r, 4, 1.5), normals(r, 6))!.ci95, 1.5))
    expect(Math.abs(covered - 0.95)).toBeLessThan(noise(DEAR_RUNS))
  })

  test.each([
    { n: 3, shift: 0 },
    { n: 3, shift: 2 },
    { n: 5, shift: 1 },
    { n: 10, shift: 3 },
  ])('chance that one beats the other, $n each, $shift apart: not under 94', ({ n, shift }) => {
    const truth = normalCdf(shift / Math.SQRT2)
    const covered = share(RUNS, 5, r => inside(superiority(normals(r, n, shift), normals(r, n))!.ci95, truth))
    expect(covered).toBeGreaterThan(0.94)
  })

  test('all pairs at once, Tukey with unequal numbers (conservative by little)', () => {
    const covered = share(DEAR_RUNS, 6, r =>
      tukeyKramer([normals(r, 3, 1), normals(r, 5, 4), normals(r, 8, 2)])!.every(p =>
        inside(p.ci95, [-3, -1, 2][p.a + p.b - 1]!),
      ),
    )
    expect(covered).toBeGreaterThan(0.95 - noise(DEAR_RUNS))
    expect(covered).toBeLessThan(0.975)
  })

  test('all pairs at once, Games and Howell with unequal scatter', () => {
    const covered = share(DEAR_RUNS, 7, r =>
      gamesHowell([normals(r, 6, 1, 1), normals(r, 8, 4, 3), normals(r, 10, 2, 0.5)])!.every(p =>
        inside(p.ci95, [-3, -1, 2][p.a + p.b - 1]!),
      ),
    )
    expect(covered).toBeGreaterThan(0.93)
    expect(covered).toBeLessThan(0.97)
  })

  test('means that share a wrong scale and two days with wrong zeros of their own', () => {
    const covered = share(DEAR_RUNS / 2, 8, r => {
      const scale = 1 + 0.02 * r.normal()
      const zeros = [r.normal() * 2, r.normal() * 2]
      const group = (name: string, mean: number, day: number): Specimen[] =>
        Array.from({ length: 6 }, (_, i) => {
          const value = (mean + r.normal() * 3) * scale + zeros[day]!
          return {
            ...plainSpecimen(`${name}${i}`, name, value),
            day: String(day),
            parts: [
              { source: 'scale', standard: Math.abs(value) * 0.02, shared: 'rig' },
              { source: 'zero', standard: 2, shared: 'day' },
            ],
          }
        })
      const { pairs } = compareGroups([...group('a', 100, 0), ...group('b', 90, 1)], {
        quantity: 'peakForce',
        unit: 'N',
      })
      return inside(pairs[0]!.ci95!, 10)
    })
    expect(covered).toBeGreaterThan(0.94)
    expect(covered).toBeLessThan(0.985)
  })
})

describe('false alarms stay under their level', () => {
  test('Mann–Whitney and the permutation test, 4 against 5, values with ties', () => {
    const rounded = (r: Random, n: number) => normals(r, n).map(v => Math.round(v * 2))
    const alarms = [0, 0]
    share(RUNS, 9, r => {
      const [x, y] = [rounded(r, 4), rounded(r, 5)]
      if (mannWhitney(x, y)!.p <= 0.05) alarms[0]!++
      if (permutationTest(x, y)!.p <= 0.05) alarms[1]!++
      return true
    })
    for (const count of alarms) expect(count / RUNS).toBeLessThan(0.05 + noise(RUNS))
  })

  test('ranks with bounds: both groups cut at the same force', () => {
    const cut = (v: Float64Array) => ({
      values: v.map(x => Math.min(x, 0.5)),
      bounds: Array.from(v, x => x > 0.5),
    })
    const alarms = share(RUNS, 10, r => {
      const [x, y] = [cut(normals(r, 6)), cut(normals(r, 6))]
      return mannWhitney(x.values, y.values, x.bounds, y.bounds)!.p <= 0.05
    })
    expect(alarms).toBeLessThan(0.05 + noise(RUNS))
  })

  test.each([4, 8, 15])('looking after every pull up to %i of each', perGroup => {
    const shares: number[] = []
    for (let n = 2; n <= perGroup; n++) {
      if (n > 2) shares.push(2 / (1 / n + 1 / (n - 1)) / perGroup)
      shares.push(n / perGroup)
    }
    const limits = nominalLevels(shares, 0.05)
    const alarms = share(RUNS, 11, r => {
      const [x, y] = [normals(r, perGroup), normals(r, perGroup)]
      return limits.some((limit, look) => {
        const nA = 2 + Math.ceil(look / 2)
        const nB = 2 + Math.floor(look / 2)
        return welch(x.subarray(0, nA), y.subarray(0, nB))!.p <= limit
      })
    })
    expect(alarms).toBeLessThan(0.05 + noise(RUNS))
    expect(alarms).toBeGreaterThan(0.02)
  })

  test('the same peeking without a correction would cheat', () => {
    const alarms = share(RUNS, 12, r => {
      const [x, y] = [normals(r, 10), normals(r, 10)]
      return Array.from({ length: 9 }, (_, i) => i + 2).some(
        n => welch(x.subarray(0, n), y.subarray(0, n))!.p <= 0.05,
      )
    })
    expect(alarms).toBeGreaterThan(0.12)
  })
})

test('the power that a plan promises is had', () => {
  for (const [n, difference] of [
    [5, 2],
    [12, 1.2],
  ] as const) {
    const seen = share(RUNS, 13, r => welch(normals(r, n, difference), normals(r, n))!.p < 0.05)
    // Planned with the t test of equal scatter; Welch gives up a little at small numbers.
    expect(seen).toBeGreaterThan(powerOf(difference, { nA: n, nB: n, sd: 1 })! - 0.035)
    expect(seen).toBeLessThan(powerOf(difference, { nA: n, nB: n, sd: 1 })! + 0.015)
  }
})
