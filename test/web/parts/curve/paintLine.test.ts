import { expect, test } from 'vitest'
import { paintLine } from '../../../../src/web/parts/curve/paint.ts'

/** A canvas that notes what is drawn on it. */
function notedContext() {
  const strokes: { readonly pieces: number[][][]; readonly dashOffset: number }[] = []
  let pieces: number[][][] = []
  const context = {
    lineDashOffset: 0,
    setLineDash() {},
    beginPath() {
      pieces = []
    },
    moveTo: (x: number, y: number) => pieces.push([[x, y]]),
    lineTo: (x: number, y: number) => pieces.at(-1)?.push([x, y]),
    stroke() {
      strokes.push({ pieces, dashOffset: context.lineDashOffset })
    },
  }
  return { strokes, context: context as unknown as CanvasRenderingContext2D }
}

const plane = { view: { from: 0, to: 100 }, lowN: 0, highN: 100, width: 100, height: 100 }

function painted(values: readonly number[], dashes: readonly number[] = []) {
  const { strokes, context } = notedContext()
  const timeS = Float64Array.from(values, (_, i) => i)
  const points = { timeS, value: Float64Array.from(values) }
  const line = {
    id: 'a',
    label: 'a',
    colour: '--ink',
    widthPx: 2,
    dashes,
    version: 1,
    slice: () => points,
  }
  const slice = { from: 0, to: 100, version: 1, perPixel: 1, points, leastN: 0, greatestN: 100 }
  const count = paintLine(context, line, slice, plane, colour => colour)
  return { strokes, count }
}

test('a long line is drawn in short strokes, each beginning where the last one ended', () => {
  const values = Array.from({ length: 101 }, (_, i) => (i % 2 === 0 ? 10 : 90))
  const { strokes, count } = painted(values)
  expect(count).toBe(101)
  expect(strokes.length).toBeGreaterThan(2)
  expect(Math.max(...strokes.flatMap(({ pieces }) => pieces.map(piece => piece.length)))).toBeLessThan(40)
  for (let i = 1; i < strokes.length; i++)
    expect(strokes[i]?.pieces[0]?.[0]).toEqual(strokes[i - 1]?.pieces.at(-1)?.at(-1))
  // Every point is there, in order.
  const xs = strokes.flatMap(({ pieces }) => pieces.flat().map(([x]) => x ?? 0))
  const whole = [...new Set(xs.filter(Number.isInteger))]
  expect(whole).toEqual(values.map((_, i) => i))
})

test('dashes go on from one stroke to the next', () => {
  const { strokes } = painted(
    Array.from({ length: 101 }, () => 50),
    [4, 2],
  )
  expect(strokes[0]?.dashOffset).toBe(0)
  for (const { pieces, dashOffset } of strokes.slice(1))
    expect(dashOffset).toBeCloseTo(pieces[0]?.[0]?.[0] ?? Number.NaN, 9)
})

test('a stretch without readings stays empty; a single reading beside it is still seen', () => {
  const { strokes } = painted([1, 2, Number.NaN, 7, Number.NaN, 3, 4])
  const pieces = strokes.flatMap(stroke => stroke.pieces)
  expect(pieces.map(piece => piece.map(([x]) => x))).toEqual([
    [0, 0.5, 1],
    [3, 3.5],
    [5, 5.5, 6],
  ])
})
