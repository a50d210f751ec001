import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  alongAt,
  alongCurve,
  alongEnds,
  alongSelvedge,
  alongSlice,
  alongSpan,
} from '../../../src/web/engine/alongCurve.ts'

/** A travel logged with noise, so that it steps back now and then. */
const noisy = fc
  .array(fc.double({ min: -0.4, max: 1, noNaN: true }), { minLength: 2, maxLength: 400 })
  .map(steps => {
    let x = 0
    return Float64Array.from(steps, step => {
      x += step
      return x
    })
  })

test('a slice holds every point of its stretch where there is a pixel for each, however the axis steps back', () => {
  fc.assert(
    fc.property(
      noisy,
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      (along, a, b) => {
        const curve = alongCurve({ along, forceN: Float64Array.from(along, (_, i) => i) })
        const ends = alongEnds(curve)
        if (!ends) return
        const [from, to] = [Math.min(a, b), Math.max(a, b)].map(
          share => ends.from + share * (ends.to - ends.from),
        ) as [number, number]
        const { timeS, value } = alongSlice(curve, from, to, along.length)
        const seen = new Set(value)
        along.forEach((x, i) => {
          if (x >= from && x <= to) expect(seen.has(i)).toBe(true)
        })
        value.forEach((i, k) => {
          expect(timeS[k]).toBe(along[i])
        })
      },
    ),
  )
})

test('thinned, the greatest force is still there', () => {
  const n = 50_000
  const along = Float64Array.from({ length: n }, (_, i) => i / 100)
  const forceN = Float64Array.from({ length: n }, (_, i) => (i === 31_417 ? 1000 : Math.sin(i)))
  const { timeS, value } = alongSlice(alongCurve({ along, forceN }), 0, 500, 200)
  expect(value.length).toBeLessThanOrEqual(4 * 200 + 4)
  expect(timeS[value.indexOf(1000)]).toBe(314.17)
})

test('a curve without points has no ends and no slice', () => {
  const curve = alongCurve({ along: new Float64Array(0), forceN: new Float64Array(0) })
  expect(alongEnds(curve)).toBeNull()
  expect(alongSlice(curve, 0, 1, 10).value).toHaveLength(0)
})

test('its selvedge begins anew at every join, with the place of a re-grip, and keeps holds', () => {
  const curve = {
    along: Float64Array.of(0, 1, 2, 3, 4, 5),
    sample: Uint32Array.of(0, 1, 2, 7, 8, 9),
    joins: [{ point: 3, pull: 1 }],
  }
  const timeS = Float64Array.from({ length: 10 }, (_, i) => i)
  const selvedge = [
    { kind: 'loading', fromS: 0, toS: 2 },
    { kind: 'hold', fromS: 2, toS: 3 },
    { kind: 'regrip', fromS: 3, toS: 6 },
    { kind: 'loading', fromS: 6, toS: 9 },
  ] as const
  // A second re-grip that no join lies over has no place on the curve.
  expect(alongSelvedge(curve, timeS, selvedge, [4.5, 8.5])).toEqual([
    { kind: 'loading', fromS: 0, toS: 2 },
    { kind: 'hold', fromS: 2, toS: 3 },
    { kind: 'regrip', fromS: 3, toS: 3 },
    { kind: 'loading', fromS: 3, toS: 5 },
  ])
})

test('a moment that was left out lies where the curve goes on; after the last there is none', () => {
  const curve = { along: Float64Array.of(0, 1, 2), sample: Uint32Array.of(0, 1, 5) }
  const timeS = Float64Array.of(0, 1, 2, 3, 4, 5, 6)
  expect(alongAt(curve, timeS, 1)).toBe(1)
  expect(alongAt(curve, timeS, 3)).toBe(2)
  expect(alongAt(curve, timeS, 6)).toBeNull()
})

test('a part lies between the outermost of its points; one that was left out lies nowhere', () => {
  const curve = { along: Float64Array.of(0, 3, 2, 4), sample: Uint32Array.of(0, 1, 2, 6) }
  const timeS = Float64Array.of(0, 1, 2, 3, 4, 5, 6)
  expect(alongSpan(curve, timeS, { fromS: 1, toS: 2.5 })).toEqual({ from: 2, to: 3 })
  expect(alongSpan(curve, timeS, { fromS: 3, toS: 5 })).toBeNull()
})
