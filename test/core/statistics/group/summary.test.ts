import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { summariseGroup } from '../../../../src/core/statistics/group/summary.ts'

const quick = { resamples: 200 }

test('three repeats: what can be had, and for the rest how many it takes', () => {
  const group = summariseGroup('repeats', [11.46, 8.66, 9.88])
  expect(group).toMatchObject({ name: 'repeats', n: 3, censored: 0, min: 8.66, max: 11.46, median: 9.88 })
  expect(group.mean).toBeCloseTo(10, 12)
  expect(group.ci95!.map(v => v.toFixed(3))).toEqual(['6.513', '13.487'])
  expect(group.cv).toBeCloseTo(0.140385, 6)
  expect(group.bootstrap95).toBeNull()
  expect(group.missing.map(m => [m.figure, m.why, m.atLeast])).toEqual([
    ['bootstrap95', 'too-few', 5],
    ['andersonDarling', 'too-few', 8],
    ['lowerBounds.anyShape.p90c95', 'too-few', 29],
    ['lowerBounds.anyShape.p99c95', 'too-few', 299],
  ])
})

test('one specimen has a mean and nothing else', () => {
  const group = summariseGroup('one', [12.5], quick)
  expect(group).toMatchObject({ n: 1, mean: 12.5, median: 12.5, min: 12.5, max: 12.5 })
  expect([group.sd, group.cv, group.ci95, group.sd95, group.weibull, group.normality]).toEqual(
    Array(6).fill(null),
  )
  expect(group.lowerBounds).toMatchObject({ p90c95: null, p99c95: null })
  expect(group.missing.find(m => m.figure === 'sd')).toEqual({
    figure: 'sd',
    why: 'too-few',
    text: 'It needs at least 2 specimens; there is 1.',
    atLeast: 2,
  })
})

test('an empty group is an answer too', () => {
  const group = summariseGroup('none', [], quick)
  expect(group).toMatchObject({ n: 0, mean: null, median: null, min: null, outliers: [] })
  expect(group.missing.every(m => m.why === 'too-few')).toBe(true)
})

test('equal values: scatter 0, and no interval made of it', () => {
  const group = summariseGroup('equal', [4, 4, 4, 4, 4, 4, 4, 4], quick)
  expect(group).toMatchObject({
    mean: 4,
    sd: 0,
    cv: 0,
    ci95: null,
    bootstrap95: null,
    weibull: null,
    outliers: [],
  })
  const reasons = new Set(group.missing.filter(m => m.atLeast === null).map(m => m.why))
  expect([...reasons]).toEqual(['no-scatter'])
})

describe('specimens that only reached their value', () => {
  const group = summariseGroup('cut', [11.46, 8.66, 9.88, 12, 12.2, 10.1], {
    ...quick,
    censored: [false, false, false, false, true, false],
  })
  test('are counted by the Weibull fit and its bounds', () => {
    expect(group.n).toBe(6)
    expect(group.censored).toBe(1)
    expect(group.weibull).toMatchObject({ censored: 1 })
    expect(group.lowerBounds.method).toBe('weibull')
    expect(group.lowerBounds.p90c95).toBe(group.lowerBounds.weibull.p90c95)
    expect(group.lowerBounds.p90c95).toBeGreaterThan(0)
  })
  test('leave no mean that would read low, and say so', () => {
    expect([group.mean, group.sd, group.ci95, group.max]).toEqual([null, null, null, null])
    expect(group.missing.find(m => m.figure === 'mean')).toMatchObject({
      why: 'censored',
      text: '1 of 6 only reached its value: this figure would read low.',
    })
  })
  test('leave figures of rank that they cannot change', () => {
    expect(group.median).toBeCloseTo((10.1 + 11.46) / 2, 12)
    expect(group.min).toBe(8.66)
    const early = summariseGroup('early', [5, 6, 7, 8], { ...quick, censored: [true] })
    expect([early.min, early.median]).toEqual([null, null])
    const late = summariseGroup('late', [5, 6, 500, 500, 4], {
      ...quick,
      censored: [false, false, true, true, false],
    })
    expect([late.min, late.median, late.max]).toEqual([4, 6, null])
  })
})

test('values below 0 have everything but a Weibull fit', () => {
  const group = summariseGroup('signed', [-3, -1, 2, 1.5, -2, -4], quick)
  expect(group.ci95).not.toBeNull()
  expect(group.weibull).toBeNull()
  expect(group.missing.find(m => m.figure === 'weibull')).toMatchObject({ why: 'not-positive' })
  expect(group.missing.find(m => m.figure === 'cv')).toMatchObject({ why: 'not-positive' })
})

test('30 values have the bound that assumes no shape', () => {
  const values = Array.from({ length: 30 }, (_, i) => 50 + i)
  expect(summariseGroup('many', values, quick).lowerBounds.anyShape).toEqual({ p90c95: 50, p99c95: null })
})

test('a value that is no number is a mistake of the caller', () => {
  for (const bad of [Number.NaN, Infinity, 1e31]) {
    expect(() => summariseGroup('bad', [1, bad, 3])).toThrow(/group bad/)
  }
})

const extreme = fc.constantFrom(0, 1, 5, 1e-300, 5e-324, 1e30, 1e-29, 1 + 2 ** -52)
const close = fc.double({ min: 1, max: 1.0001, noNaN: true })
const positive = fc.array(fc.oneof(extreme, close, fc.double({ min: 1e-30, max: 1e30, noNaN: true })), {
  maxLength: 15,
})
const anyOf = fc.array(fc.oneof(extreme, close, fc.double({ min: -1e30, max: 1e30, noNaN: true })), {
  maxLength: 15,
})
const groups = fc.array(fc.double({ min: 0.5, max: 500, noNaN: true }), { maxLength: 12 })

describe('whatever the values', () => {
  test('no figure is NaN or infinite, and every null has a reason', () => {
    fc.assert(
      fc.property(
        fc.oneof(groups, positive, anyOf),
        fc.array(fc.boolean(), { maxLength: 5 }),
        (values, censored) => {
          const group = summariseGroup('any', values, { ...quick, censored })
          const walk = (value: unknown, path: string): void => {
            if (typeof value === 'number') expect(Number.isFinite(value), path).toBe(true)
            else if (value !== null && typeof value === 'object') {
              for (const [key, inner] of Object.entries(value)) walk(inner, `${path}.${key}`)
            }
          }
          walk(group, 'group')
          for (const figure of [
            'mean',
            'sd',
            'cv',
            'median',
            'ci95',
            'bootstrap95',
            'weibull',
            'normality',
          ] as const) {
            const reason = group.missing.some(m => m.figure === figure)
            expect(reason, figure).toBe(group[figure] === null)
          }
        },
      ),
      { seed: 8, numRuns: 300 },
    )
  })
  test('order changes nothing but the places of the suspects and the bootstrap’s draws', () => {
    fc.assert(
      fc.property(groups, values => {
        const there = summariseGroup('a', values, quick)
        const back = summariseGroup('a', [...values].reverse(), quick)
        expect(back.median).toBe(there.median)
        expect(back.mean ?? 0).toBeCloseTo(there.mean ?? 0, 9)
        expect(back.lowerBounds.p90c95 ?? 0).toBeCloseTo(there.lowerBounds.p90c95 ?? 0, 6)
        expect(back.outliers.map(o => o.value)).toEqual(there.outliers.map(o => o.value))
      }),
      { seed: 9, numRuns: 60 },
    )
  })
})
