import { expect, test } from 'vitest'
import { growingCurve } from '../../../src/web/live/growingCurve.ts'
import { axisOf, liveStrip } from '../../../src/web/pull/liveBands.ts'

/** A curve of straight parts, at 50 samples a second: `[seconds, force at its end]`. */
function curveOf(...parts: readonly (readonly [number, number])[]) {
  const curve = growingCurve()
  let atS = 0
  let atN = 0
  for (const [forS, toN] of parts) {
    for (let t = 0; t < forS; t += 0.02) curve.add([atS + t], [atN + ((toN - atN) * t) / forS])
    atS += forS
    atN = toN
  }
  return curve
}
const PULLED = { pulls: 1, pulling: false }
const kinds = (strip: ReturnType<typeof liveStrip>) => strip.bands.map(({ kind }) => kind)

test('rest, loading and rest again; the strip has no holes and no overlap', () => {
  const curve = curveOf([3, 0], [4, 80], [0.02, 0], [2, 0])
  const strip = liveStrip(curve, { zeroN: 0, capture: PULLED, events: [], restlessN: 0.01 })
  expect(kinds(strip)).toEqual(['rest', 'loading', 'rest'])
  strip.bands.slice(1).forEach((band, i) => {
    expect(band.from).toBe(strip.bands[i]?.to)
  })
  expect(strip.top?.forceN).toBeCloseTo(80, 0)
  expect(strip.top?.atS).toBeCloseTo(7, 1)
  expect(strip.loadingS).toBeCloseTo(3.9, 0)
})

test('before anything has pulled all is rest, however restless; a knock is none', () => {
  const restless = liveStrip(curveOf([2, 0.3]), {
    zeroN: 0,
    capture: { pulls: 0, pulling: false },
    events: [],
    restlessN: 0,
  })
  expect(kinds(restless)).toEqual(['rest'])
  const knocked = curveOf([2, 0], [0.1, 20], [0.1, 0], [2, 0], [3, 80], [0.02, 0], [1, 0])
  expect(kinds(liveStrip(knocked, { zeroN: 0, capture: PULLED, events: [], restlessN: 0.01 }))).toEqual([
    'rest',
    'loading',
    'rest',
  ])
})

test('what was let down by hand is called so, and missing data are a gap', () => {
  const letDown = curveOf([2, 0], [3, 50], [2, 0], [1, 0])
  const events = [{ kind: 'unload' as const, atS: 5.2 }]
  expect(kinds(liveStrip(letDown, { zeroN: 0, capture: PULLED, events, restlessN: 0.01 }))).toEqual([
    'rest',
    'loading',
    'unload',
    'rest',
  ])
  const holed = curveOf([2, 0])
  holed.add([9, 9.02, 9.04], [0, 0, 0])
  expect(kinds(liveStrip(holed, { zeroN: 0, capture: PULLED, events: [], restlessN: 0.01 }))).toEqual([
    'rest',
    'gap',
    'rest',
  ])
})

test('the axis stands still for a while and always holds the curve', () => {
  const ends = Array.from({ length: 5_000 }, (_, i) => axisOf(3, 3 + i).to)
  ends.forEach((to, i) => {
    expect(to).toBeGreaterThanOrEqual(3 + i)
  })
  expect(new Set(ends).size).toBeLessThan(20)
})
