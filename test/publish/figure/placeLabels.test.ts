import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type LabelWish, placeLabels } from '../../../src/publish/figure/placeLabels.ts'

const room = { fromX: 0, toX: 500, rows: 4 }

test('labels far apart share the lowest row', () => {
  const places = placeLabels(
    [
      { x: 10, width: 100, weight: 1 },
      { x: 300, width: 100, weight: 1 },
    ],
    room,
  )
  expect(places).toEqual([
    { x: 14, row: 0 },
    { x: 304, row: 0 },
  ])
})

test('of two that overlap, the left one stands higher, so that its line crosses nothing', () => {
  const places = placeLabels(
    [
      { x: 10, width: 100, weight: 1 },
      { x: 40, width: 100, weight: 1 },
    ],
    room,
  )
  expect(places.map(p => p?.row)).toEqual([1, 0])
})

test('a label without room to the right ends at its tick', () => {
  expect(placeLabels([{ x: 480, width: 100, weight: 1 }], room)).toEqual([{ x: 376, row: 0 }])
})

test('a label stands above the lines that rise through its place', () => {
  const ticks = [258, 292, 305, 337, 402]
  const places = placeLabels(
    ticks.map(x => ({ x, width: 115, weight: 1 })),
    { fromX: 60, toX: 560, rows: 6 },
  )
  expect(places.map(p => p?.row)).toEqual([4, 3, 2, 1, 0])
})

test('where the rows run out the least important goes without', () => {
  const places = placeLabels(
    [1, 5, 2].map((weight, i) => ({ x: 10 + i, width: 200, weight })),
    { ...room, rows: 2 },
  )
  expect(places.map(p => p === null)).toEqual([true, false, false])
})

test('no label lies over another, leaves the room or is crossed by a line', () => {
  const wish = fc.record({
    x: fc.double({ min: 0, max: 500, noNaN: true }),
    width: fc.double({ min: 5, max: 200, noNaN: true }),
    weight: fc.nat(3),
  })
  fc.assert(
    fc.property(fc.array(wish, { maxLength: 14 }), (wishes: LabelWish[]) => {
      const placed = placeLabels(wishes, room).flatMap((place, i) =>
        place ? [{ ...place, wish: wishes[i]! }] : [],
      )
      for (const a of placed) {
        expect(a.x).toBeGreaterThanOrEqual(room.fromX)
        expect(a.x + a.wish.width).toBeLessThanOrEqual(room.toX)
        for (const b of placed) {
          if (a === b) continue
          const apart = a.x + a.wish.width < b.x || b.x + b.wish.width < a.x
          expect(a.row !== b.row || apart).toBe(true)
          const crossed = a.row > b.row && a.wish.x >= b.x && a.wish.x <= b.x + b.wish.width
          expect(crossed).toBe(false)
        }
      }
    }),
    { seed: 8 },
  )
})
