import { expect, test } from 'vitest'
import { placeTicks, tickAt } from '../../../../src/web/parts/curve/CurveMarks.tsx'
import { layoutOf, planeOf } from '../../../../src/web/parts/curve/layout.ts'
import { forceAt, inView, lineAt, rangeInView } from '../../../../src/web/parts/curve/paint.ts'
import type { Slice } from '../../../../src/web/parts/curve/slices.ts'

const points = {
  timeS: Float64Array.of(0, 1, 2, 3, 4, 5),
  value: Float64Array.of(0, 10, 20, Number.NaN, 40, 5),
}
const slice: Slice = { from: 0, to: 5, version: 1, perPixel: 1, points, leastN: 0, greatestN: 40 }

test('a point on either side of the view is drawn too, so that the line runs to the edge', () => {
  expect(inView(points, { from: 1.5, to: 2.5 })).toEqual({ first: 1, end: 4 })
  expect(inView(points, { from: -3, to: 99 })).toEqual({ first: 0, end: 6 })
})

test('the range of what is seen passes over breaks in the line', () => {
  expect(rangeInView([slice, null], { from: 2, to: 4 })).toEqual([5, 40])
  expect(rangeInView([null], { from: 2, to: 4 })).toBeNull()
})

test('the force at a place is that of the nearest point, or none in a break', () => {
  expect(forceAt(slice, 1.4)).toBe(10)
  expect(forceAt(slice, 1.6)).toBe(20)
  expect(forceAt(slice, 3.1)).toBeNull()
  expect(forceAt(slice, 99)).toBe(5)
})

test('nought and the interval of the peak are in the plane; fitted, only what is seen', () => {
  const layout = layoutOf({ width: 1000, height: 500 }, 'kgf')
  const peak = { at: 2, forceN: 90, lowN: 85, highN: 97, label: '' }
  const whole = planeOf(layout, { from: 0, to: 5 }, [20, 90], peak)
  expect(whole.lowN).toBe(0)
  expect(whole.highN).toBeGreaterThanOrEqual(97)
  const fitted = planeOf(layout, { from: 0, to: 5 }, [20, 22], null)
  expect(fitted.lowN).toBeGreaterThan(19)
  expect(fitted.highN).toBeLessThan(23)
})

test('a plane is never without height, whatever is seen', () => {
  const layout = layoutOf({ width: 1000, height: 500 }, 'N')
  for (const seen of [null, [0, 0], [5, 5]] as const)
    for (const peak of [null, { at: 0, forceN: 0, lowN: null, highN: null, label: '' }]) {
      const { lowN, highN } = planeOf(layout, { from: 0, to: 1 }, seen, peak)
      expect(highN).toBeGreaterThan(lowN)
    }
})

test('newton stands at the right where the unit is another and there is room', () => {
  expect(layoutOf({ width: 1000, height: 500 }, 'kgf').withNewton).toBe(true)
  expect(layoutOf({ width: 1000, height: 500 }, 'N').withNewton).toBe(false)
  expect(layoutOf({ width: 330, height: 300 }, 'kgf').withNewton).toBe(false)
})

test('of many ticks the weightiest keep their words, and each can be pointed at', () => {
  const plane = { view: { from: 0, to: 100 }, lowN: 0, highN: 10, width: 500, height: 200 }
  const ticks = Array.from({ length: 200 }, (_, i) => ({
    id: `${i}`,
    at: i / 2,
    forceN: 5,
    label: `a part let go, number ${i}`,
    title: '',
    weight: i,
    number: i + 1,
  }))
  const placed = placeTicks(ticks, plane, 4, { left: 10, right: 10 })
  const worded = placed.filter(({ place }) => place !== null)
  expect(placed).toHaveLength(200)
  expect(worded.length).toBeGreaterThan(0)
  expect(worded.some(({ tick }) => tick.id === '199')).toBe(true)
  expect(tickAt(placed, plane, 250, 50)?.id).toBe('100')
  expect(tickAt([], plane, 250, 50)).toBeNull()
})

test('of many lines the nearest to a place is found, and none from afar or past its ends', () => {
  const line = (id: string, add: number) => ({
    line: { id, version: 1, label: id, colour: '--ink', widthPx: 1, slice: () => points },
    slice: { ...slice, points: { ...points, value: points.value.map(v => v + add) } },
  })
  const lines = [line('low', 0), line('middle', 10), line('high', 20)]
  expect(lineAt(lines, 1, 21, 5)).toBe('middle')
  expect(lineAt(lines, 1, 29, 5)).toBe('high')
  expect(lineAt(lines, 1, 60, 5)).toBeNull()
  expect(lineAt(lines, 7, 21, 5)).toBeNull()
})
