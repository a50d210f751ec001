import { expect, test } from 'vitest'
import { textWidth } from '../../../../src/publish/figure/textWidth.ts'
import { placeTicks, tickAt, WORDS_PX } from '../../../../src/web/parts/curve/CurveMarks.tsx'
import type { CurveTick } from '../../../../src/web/parts/curve/types.ts'

const plane = { view: { from: 0, to: 100 }, lowN: 0, highN: 1, width: 600, height: 200 }
const room = { left: 0, right: 14 }
const tick = (number: number, at: number, weight: number): CurveTick => ({
  ...{ id: `${number}`, at, forceN: 1, weight, number },
  label: `a part let go, −7.4 N, ${number} of 10`,
  title: '',
})
/** Eight parts that let go one shortly after the other, the last the weightiest: a break at the peak. */
const ticks = Array.from({ length: 8 }, (_, i) => tick(i + 1, 50 + 4 * i, i))

test('an event that has no room for its words has its number', () => {
  const placed = placeTicks(ticks, plane, 3, room)
  expect(placed.filter(({ place }) => place === null)).toEqual([])
  const numbered = placed.filter(({ words }) => /^\d$/.test(words))
  expect(numbered.length).toBeGreaterThan(1)
  expect(numbered.length).toBeLessThan(8)
  for (const { tick, words } of numbered) expect(words).toBe(`${tick.number}`)
  // The weightiest keeps its words.
  expect(placed.find(({ tick }) => tick.number === 8)?.words).toBe(ticks[7]!.label)
})

test('words and numbers lie apart, and are pressed where they stand', () => {
  const placed = placeTicks(ticks, plane, 3, room)
  const boxes = placed.map(({ words, place }) => ({
    row: place!.row,
    from: place!.x,
    to: place!.x + textWidth(words, WORDS_PX),
  }))
  boxes.forEach((one, i) => {
    for (const other of boxes.slice(i + 1))
      expect(one.row !== other.row || one.to <= other.from || other.to <= one.from).toBe(true)
  })
  for (const { tick, place } of placed)
    expect(tickAt(placed, plane, place!.x + 2, -place!.row * 18 - 10)?.id).toBe(tick.id)
})
