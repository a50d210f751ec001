import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type Painted, paintLine, tailOf } from '../../../../src/web/parts/curve/paint.ts'

const WIDTH = 400

/** A line as drawn, one point each second. */
function painted(values: readonly number[], other: Partial<Painted['plane']> = {}, sharp = 1): Painted {
  const points = { timeS: Float64Array.from(values, (_, i) => i), value: Float64Array.from(values) }
  const line = { id: 'a', label: 'a', colour: '--ink', widthPx: 2, version: 1, slice: () => points }
  const slice = { from: 0, to: WIDTH, version: 1, perPixel: 1, points, leastN: 0, greatestN: 100 }
  const plane = { view: { from: 0, to: WIDTH }, lowN: 0, highN: 100, width: WIDTH, height: 100, ...other }
  return { line, slice, plane, sharp }
}

/** Each straight piece that is drawn. */
function pieces({ line, slice, plane }: Painted, start?: number) {
  const drawn: { from: readonly [number, number]; to: readonly [number, number] }[] = []
  let at: readonly [number, number] = [0, 0]
  let path: (typeof drawn)[number][] = []
  const context = {
    setLineDash() {},
    beginPath() {
      path = []
    },
    moveTo(x: number, y: number) {
      at = [x, y]
    },
    lineTo(x: number, y: number) {
      path.push({ from: at, to: [x, y] })
      at = [x, y]
    },
    stroke() {
      drawn.push(...path)
    },
  }
  paintLine(context as unknown as CanvasRenderingContext2D, line, slice, plane, colour => colour, start)
  return drawn
}

const wave = (length: number) => Array.from({ length }, (_, i) => 50 + 40 * Math.sin(i / 5))

test('of a line that has grown only its end is drawn', () => {
  const tail = tailOf(painted(wave(300)), painted(wave(303)))
  // The last point that stays is at 299, and its corner reaches the width of the line further back.
  expect(tail).toEqual({ fromX: 297, start: 288 })
})

test('a line that is as it was is drawn from its last point on, so that every frame shows what came', () => {
  expect(tailOf(painted(wave(300)), painted(wave(300)))).toEqual({ fromX: 297, start: 288 })
})

test('where the last point moved, as the least and greatest of a pixel do, the end begins before it', () => {
  const moved = wave(300)
  moved[299] = 99
  expect(tailOf(painted(wave(300)), painted(moved))?.fromX).toBe(296)
})

test('on a sharp screen the end begins at one of its own pixels', () => {
  const plane = { view: { from: 0, to: 1.1 * WIDTH } }
  const fromX = tailOf(painted(wave(300), plane, 2), painted(wave(301), plane, 2))?.fromX ?? Number.NaN
  expect(2 * fromX).toBe(Math.floor(2 * (299 / 1.1 - 2)))
})

test.each([
  ['another height', painted(wave(303), { highN: 120 })],
  ['another view', painted(wave(303), { view: { from: 0, to: 500 } })],
  ['another width', painted(wave(303), { width: 500 })],
  ['another sharpness', painted(wave(303), {}, 2)],
  ['another first point', painted([1, ...wave(302)])],
  ['other corners, with more points than pixels', painted(wave(401))],
])('all is drawn with %s', (_, now) => {
  expect(tailOf(painted(wave(300)), now)).toBeNull()
})

test('all is drawn of a line of another width or with dashes', () => {
  const [before, now] = [painted(wave(300)), painted(wave(303))]
  expect(tailOf(before, { ...now, line: { ...now.line, widthPx: 3 } })).toBeNull()
  expect(tailOf(before, { ...now, line: { ...now.line, colour: '--paper' } })).toBeNull()
  expect(tailOf(before, { ...now, line: { ...now.line, dashes: [4, 2] } })).toBeNull()
})

test('old left of the end and new from there on are together what drawing all of it gives', () => {
  const value = fc.oneof({ weight: 9, arbitrary: fc.integer({ min: 0, max: 100 }) }, fc.constant(Number.NaN))
  fc.assert(
    fc.property(
      fc.array(value, { minLength: 2, maxLength: 300 }),
      fc.array(value, { maxLength: 50 }),
      fc.integer({ min: 0, max: 3 }),
      (stays, more, cut) => {
        const [before, now] = [painted([...stays, ...wave(cut)]), painted([...stays, ...more])]
        const tail = tailOf(before, now)
        if (tail === null) return
        // What reaches past `fromX`, the width of the line with it, is the same in all and in the end alone …
        const reaches = ({ to }: { to: readonly [number, number] }) => to[0] + 2 >= tail.fromX
        expect(pieces(now, tail.start).filter(reaches)).toEqual(pieces(now).filter(reaches))
        // … and what lies left of it was there before.
        const isLeft = ({ to }: { to: readonly [number, number] }) => to[0] + 1 <= tail.fromX
        expect(pieces(before).filter(isLeft)).toEqual(pieces(now).filter(isLeft))
      },
    ),
    { seed: 23, numRuns: 300 },
  )
})
