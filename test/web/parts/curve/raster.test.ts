import { expect, test } from 'vitest'
import { rasterLine } from '../../../../src/web/parts/curve/raster.ts'

const NONE = Number.NaN

/** Draws values at 0, 1, 2 … on 8 × 6 pixels, 5 N at the top; gives the rows, `#` where there is ink. */
function drawn(
  values: readonly number[],
  { view = { from: 0, to: 8 }, dashes = [] as readonly number[], from = 0, perPoint = 1 } = {},
): string[] {
  const raster = { width: 8, height: 6, pixels: new Uint32Array(48) }
  const timeS = Float64Array.from(values, (_, i) => from + i * perPoint)
  const plane = { view, lowN: -0.5, highN: 5.5, width: 8, height: 6 }
  rasterLine(raster, { timeS, value: Float64Array.from(values) }, plane, 7, dashes)
  return Array.from({ length: 6 }, (_, row) =>
    Array.from({ length: 8 }, (_, column) => (raster.pixels[row * 8 + column] === 7 ? '#' : '.')).join(''),
  )
}

test('a level line fills one row, and runs to both edges of the view', () => {
  expect(drawn([2, 2, 2], { from: -4, perPoint: 8 })).toEqual([
    '........',
    '........',
    '........',
    '########',
    '........',
    '........',
  ])
})

test('a steep line has no holes, however many samples lie in a column', () => {
  expect(drawn([0, 5, 0, 5], { perPoint: 0.2, from: 3.1 })).toEqual(Array(6).fill('...#....'))
  expect(drawn([0, 5], { perPoint: 0, from: 3.5 })).toEqual(Array(6).fill('...#....'))
})

test('a slope goes on from each column to the next', () => {
  const rows = drawn([0, 5], { perPoint: 7, from: 0.5 })
  for (let column = 0; column < 7; column++) {
    const here = rows.flatMap((row, i) => (row[column] === '#' ? [i] : []))
    const next = rows.flatMap((row, i) => (row[column + 1] === '#' ? [i] : []))
    expect(Math.abs(Math.min(...here) - Math.max(...next))).toBeLessThanOrEqual(1)
  }
})

test('no line is drawn over a break, and a single reading between two is seen', () => {
  expect(drawn([2, NONE, 4, NONE, 2], { from: 0.5 })).toEqual([
    '........',
    '..#.....',
    '........',
    '#...#...',
    '........',
    '........',
  ])
})

test('what lies outside the picture is left out', () => {
  expect(drawn([99, 99, 99, 99])).toEqual(Array(6).fill('........'))
  expect(drawn([2, 2], { from: -20, perPoint: 5 })).toEqual(Array(6).fill('........'))
})

test('dashes follow the line', () => {
  expect(drawn([2, 2, 2], { from: 0, perPoint: 4, dashes: [2, 2] })[3]).toBe('##..##..')
})
