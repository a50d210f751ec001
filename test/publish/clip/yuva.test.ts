import { expect, test } from 'vitest'
import { clearYuva, paintYuva, rgbOf } from '../../../src/publish/clip/yuva.ts'

/** 8-bit BT.709 levels of the full colour bars (Rec. ITU-R BT.709-6, items 3.2 to 3.4, rounded). */
const BARS = [
  ['#ffffff', 235, 128, 128],
  ['#000000', 16, 128, 128],
  ['#ff0000', 63, 102, 240],
  ['#00ff00', 173, 42, 26],
  ['#0000ff', 32, 240, 118],
  ['#ffff00', 219, 16, 138],
] as const

test.each(BARS)('%s has the levels of the standard', (colour, y, u, v) => {
  const { data } = clearYuva(2, 2, rgbOf(colour))
  for (const [got, wanted] of [
    [data[0], y],
    [data[4], u],
    [data[5], v],
  ] as const)
    expect(Math.abs(got! - wanted)).toBeLessThanOrEqual(1)
  expect([...data.subarray(6)]).toEqual([0, 0, 0, 0])
})

test('a part lands in its place, also at an odd edge, and transparent pixels have the ground’s colour', () => {
  const ground = rgbOf('#000000')
  const picture = clearYuva(5, 3, ground)
  // A white pixel, half there, in the last column of the last row; red ones that are not there at all.
  const rgba = new Uint8ClampedArray([255, 0, 0, 0])
  const white = new Uint8ClampedArray([255, 255, 255, 128])
  paintYuva(picture, rgba, { x: 0, y: 0, width: 1, height: 1 }, ground)
  paintYuva(picture, white, { x: 4, y: 2, width: 1, height: 1 }, ground)
  const luma = [...picture.data.subarray(0, 15)]
  expect(luma.indexOf(235)).toBe(14)
  expect(luma.filter(level => level === 16)).toHaveLength(14)
  expect([...picture.data.subarray(15, 27)]).toEqual(Array(12).fill(128))
  const alpha = [...picture.data.subarray(27)]
  expect(alpha.indexOf(128)).toBe(14)
  expect(alpha.filter(level => level === 0)).toHaveLength(14)
})

test('a part that begins at an odd pixel is a mistake of ours', () => {
  const ground = rgbOf('#000000')
  const part = { x: 1, y: 0, width: 1, height: 1 }
  expect(() => paintYuva(clearYuva(4, 4, ground), new Uint8ClampedArray(4), part, ground)).toThrow(
    'even pixels',
  )
})
