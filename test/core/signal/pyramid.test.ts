import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { buildPyramid, sliceForDisplay } from '../../../src/core/signal/pyramid.ts'

const record = fc
  .array(fc.integer({ min: -50, max: 50 }), { minLength: 1, maxLength: 3000 })
  .map(values => Float64Array.from(values))
const clock = (n: number) => Float64Array.from({ length: n }, (_, i) => i / 10)

describe('thinning for display', () => {
  test('keeps the least and greatest value of any stretch, at any width', () => {
    fc.assert(
      fc.property(
        record,
        fc.nat(3000),
        fc.nat(3000),
        fc.integer({ min: 1, max: 60 }),
        (values, a, b, pixels) => {
          const n = values.length
          const [from, to] = [a % n, b % n].sort((x, y) => x - y) as [number, number]
          const pyramid = buildPyramid(clock(n), values)
          const shown = sliceForDisplay(pyramid, from / 10, to / 10, pixels)
          const inView = [...values.subarray(from, to + 1)]
          const visible = [...shown.value].filter(
            (_, i) => shown.timeS[i]! >= from / 10 && shown.timeS[i]! <= to / 10,
          )
          // The neighbour on either side may share the first and last block.
          const reach = [...values.subarray(Math.max(0, from - 1), Math.min(n, to + 2))]
          expect(Math.max(...shown.value)).toBe(Math.max(...reach))
          expect(Math.min(...shown.value)).toBe(Math.min(...reach))
          if (values.length <= 4 * pixels) expect(visible).toEqual(inView)
        },
      ),
      { seed: 11 },
    )
  })

  test('keeps both extremes of every pixel of the whole record', () => {
    fc.assert(
      fc.property(record, fc.integer({ min: 1, max: 80 }), (values, pixels) => {
        const n = values.length
        const shown = sliceForDisplay(buildPyramid(clock(n), values), 0, (n - 1) / 10, pixels)
        const points = new Set([...shown.timeS].map((t, i) => `${Math.round(t * 10)} ${shown.value[i]}`))
        // Whatever stands alone as the extreme within a pixel either side is drawn where it stood.
        const half = Math.ceil(n / pixels)
        for (let i = 0; i < n; i++) {
          const around = values.subarray(Math.max(0, i - half), i + half + 1)
          const others = [...around]
          others.splice(Math.min(i, half), 1)
          const v = values[i]!
          if (others.every(o => o < v) || others.every(o => o > v)) expect(points.has(`${i} ${v}`)).toBe(true)
        }
      }),
      { seed: 12 },
    )
  })

  test('shows every sample where there is room', () => {
    const values = Float64Array.from([1, 5, 2, 8])
    const shown = sliceForDisplay(buildPyramid(clock(4), values), 0, 0.3, 100)
    expect([...shown.value]).toEqual([1, 5, 2, 8])
    expect([...shown.timeS]).toEqual([0, 0.1, 0.2, 0.3])
  })

  test('draws a few points a pixel of a long record, first and last among them', () => {
    const n = 1_000_003
    const values = Float64Array.from({ length: n }, (_, i) => Math.sin(i / 1e4) + ((i * 7919) % 13) / 100)
    const shown = sliceForDisplay(buildPyramid(clock(n), values), 0, n / 10, 800)
    expect(shown.value.length).toBeLessThanOrEqual(4 * 800 + 4)
    expect(shown.value.length).toBeGreaterThan(800)
    expect(shown.value[0]).toBe(values[0])
    expect(shown.value.at(-1)).toBe(values.at(-1))
  })

  test('times never fall', () => {
    const values = Float64Array.from({ length: 5000 }, (_, i) => ((i * 48271) % 101) - 50)
    const gaps = [{ fromS: 99.9, toS: 100 }]
    const { timeS } = sliceForDisplay(buildPyramid(clock(5000), values, gaps), 3.3, 456.7, 90)
    for (let i = 1; i < timeS.length; i++) expect(timeS[i]!).toBeGreaterThanOrEqual(timeS[i - 1]!)
  })

  test('leaves a gap open where it is wider than a pixel, and closes a narrower one', () => {
    const timeS = Float64Array.from([0, 1, 2, 12, 13, 14])
    const values = Float64Array.from([1, 2, 3, 4, 5, 6])
    const pyramid = buildPyramid(timeS, values, [{ fromS: 2, toS: 12 }])
    expect([...sliceForDisplay(pyramid, 0, 14, 100).value]).toEqual([1, 2, 3, Number.NaN, 4, 5, 6])
    expect([...sliceForDisplay(pyramid, 0, 14, 1).value].some(Number.isNaN)).toBe(false)
  })

  test('passes over values that are missing', () => {
    const values = Float64Array.from({ length: 400 }, (_, i) => (i % 3 === 0 ? Number.NaN : i))
    const shown = sliceForDisplay(buildPyramid(clock(400), values), 0, 39.9, 10)
    expect(Math.max(...[...shown.value].filter(v => !Number.isNaN(v)))).toBe(398)
  })

  test('nothing gives nothing', () => {
    const empty = buildPyramid(new Float64Array(0), new Float64Array(0))
    expect(sliceForDisplay(empty, 0, 1, 100).value).toHaveLength(0)
  })
})
