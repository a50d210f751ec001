import { describe, expect, test } from 'vitest'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { simultaneousHalf, simultaneousP } from '../../../../src/core/statistics/compare/simultaneous.ts'
import { plainSpecimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { calibratedP, levelFor, welchSize } from '../../../../src/core/statistics/compare/stageLimit.ts'
import { welch } from '../../../../src/core/statistics/compare/welch.ts'
import { normalUpperTail } from '../../../../src/core/statistics/distributions/normal.ts'
import { tQuantile } from '../../../../src/core/statistics/distributions/t.ts'
import { variance } from '../../../../src/core/statistics/group/moments.ts'
import { type Random, seededRandom } from '../../../../src/core/statistics/random.ts'

const normals = (r: Random, n: number, sd = 1): Float64Array =>
  Float64Array.from({ length: n }, () => sd * r.normal())
const foundBy = (x: Float64Array, y: Float64Array) => ({
  parts: [variance(x) / x.length, variance(y) / y.length] as const,
  df: [x.length - 1, y.length - 1] as const,
})

describe('the size of Welch’s test, by integration', () => {
  test('is that of a simulation, also where the groups are not of one size', () => {
    for (const [nA, nB, sd] of [
      [4, 4, 3],
      [3, 5, 2],
    ] as const) {
      const r = seededRandom(4)
      let alarms = 0
      for (let run = 0; run < 20_000; run++) if (welch(normals(r, nA, sd), normals(r, nB))!.p < 0.05) alarms++
      const share = sd ** 2 / nA / (sd ** 2 / nA + 1 / nB)
      expect(Math.abs(alarms / 20_000 - welchSize(0.05, [nA - 1, nB - 1], share))).toBeLessThan(0.004)
    }
  })
  // By SciPy 1.17.1: mean over 400 strata of scipy.stats.beta of 2 scipy.stats.t.sf(limit, ν₁ + ν₂).
  test.each([
    [2, 0.5, 3.51],
    [2, 0.9, 5.17],
    [3, 0.5, 4.11],
    [3, 25 / 26, 5.54],
    [5, 0.5, 4.59],
  ])('%i degrees of freedom each, the first with %d of the variance: %d in 100', (df, share, of100) =>
    expect(100 * welchSize(0.05, [df, df], share)).toBeCloseTo(of100, 1),
  )
  test('with one scatter overwhelming the other it is Student’s own, and what was asked', () =>
    expect(Math.abs(welchSize(0.05, [4, 4], 1 - 1e-8) - 0.05)).toBeLessThan(0.002))
})

describe('the calibrated p', () => {
  const found = { parts: [0.3, 0.7], df: [3, 4] } as const
  test('and the level that belongs to it are one statement', () => {
    for (const level of [0.0001, 0.01, 0.04, 0.3])
      expect(calibratedP(levelFor(level, found), found)).toBeCloseTo(level, 9)
  })
  test('rises with Welch’s, and does not hang on which group is named first', () => {
    const other = { parts: [0.7, 0.3], df: [4, 3] } as const
    let before = 0
    for (let p = 0.0005; p < 1; p *= 1.3) {
      const now = calibratedP(p, found)
      expect(now).toBeGreaterThan(before)
      expect(calibratedP(p, other)).toBeCloseTo(now, 6)
      before = now
    }
  })
  test('asks less where scatters of few are alike, more where they are not, and next to nothing of many', () => {
    const at = (share: number, df: number) => levelFor(0.04, { parts: [share, 1 - share], df: [df, df] })
    expect(at(0.5, 3)).toBeGreaterThan(0.045)
    expect(at(0.95, 3)).toBeLessThan(0.03)
    for (const share of [0.5, 0.8, 0.95]) expect(Math.abs(at(share, 29) - 0.04)).toBeLessThan(0.0004)
  })
  /** Chance that `df` + 1 of each, the first with `share` of the variance, come under `level`: 2,000 draws of how the scatter divides. */
  function raised(level: number, share: number, calibrate: boolean, df = 3): number {
    const r = seededRandom(7)
    let sum = 0
    for (let run = 0; run < 2_000; run++) {
      const [a, b] = [share, 1 - share].map(own => own * variance(normals(r, df + 1))) as [number, number]
      const found = { parts: [a, b], df: [df, df] } as const
      const own = (df * (a + b) ** 2) / (a ** 2 + b ** 2)
      const limit = -tQuantile((calibrate ? levelFor(level, found) : level) / 2, own)
      // The means are independent of the scatter: P(|Z| > limit · s) with the true standard error 1.
      sum += 2 * normalUpperTail(limit * Math.sqrt(a + b))
    }
    return sum / 2_000
  }
  test.each([
    [0.5, 3.2, 3.3],
    [0.9, 4.3, 3.7],
    [0.96, 4.55, 3.5],
  ])(
    'asked for 4 in 100 of four each, with %d of the variance in one: Welch %d, ours %d',
    (share, plain, ours) => {
      expect(Math.abs(100 * raised(0.04, share, false) - plain)).toBeLessThan(0.3)
      expect(Math.abs(100 * raised(0.04, share, true) - ours)).toBeLessThan(0.3)
    },
  )
  test.each([2, 3, 4])(
    'of %d degrees of freedom each passes hardly more than asked, however the scatters stand',
    df => {
      for (const share of [0.5, 0.8, 0.9, 0.96, 0.99]) {
        expect(100 * raised(0.04, share, true, df)).toBeLessThan(4.25)
        // 60,000 draws: 2.25 at most, by the steps of the table; 2,000 know it to ± 0.2.
        expect(100 * raised(0.02, share, true, df)).toBeLessThan(2.45)
      }
    },
  )
})

test('interval and p of a look agree, with a doubt that is not shared and without', () => {
  const r = seededRandom(8)
  for (let run = 0; run < 60; run++) {
    const [x, y] = [normals(r, 4).map(v => v + 2), normals(r, 3, 2)]
    const family = { count: 1 + (run % 3), level: 0.04 }
    const estimate = { ...welch(x, y)!, shared: run % 2 }
    const found = foundBy(x, y)
    const p = simultaneousP(estimate, family, found)
    const half = simultaneousHalf(estimate, { ...family, level: p }, found)
    expect(half / Math.abs(estimate.difference)).toBeCloseTo(1, 5)
  }
})

describe('in a comparison', () => {
  const specimens = (values: readonly (readonly number[])[]) =>
    values.flatMap((own, g) => own.map((v, i) => plainSpecimen(`${g}${i}`, `v${g}`, v)))
  const compared = (values: readonly (readonly number[])[], stages: number) =>
    compareGroups(specimens(values), {
      quantity: 'peakForce',
      unit: 'N',
      looks: { earlier: [], planned: 3, stages },
    }).pairs[0]!
  test('a look that is one of several is never easier to pass than a single one', () => {
    const r = seededRandom(10)
    for (let run = 0; run < 25; run++) {
      const values = [
        Array.from(normals(r, 3), v => v + 23),
        Array.from(normals(r, 3, 1 + (run % 3)), v => v + 20),
      ]
      const [single, staged] = [compared(values, 1), compared(values, 2)]
      expect(staged.pAdjusted!).toBeGreaterThanOrEqual(single.pAdjusted!)
      const width = (pair: typeof single): number => pair.ci95![1] - pair.ci95![0]
      expect(width(staged)).toBeGreaterThanOrEqual(width(single))
      expect(staged.ci95![0] > 0 || staged.ci95![1] < 0).toBe(staged.seen)
      // Welch's own figures stay what they are.
      expect(staged.welch).toEqual(single.welch)
    }
  })
})
