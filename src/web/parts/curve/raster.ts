import type { Thinned } from '../../../core/signal/pyramid.ts'
import { inView, type Plane } from './paint.ts'

/** A picture in memory, row by row; each pixel is one number, its bytes in the order of a canvas. */
export interface Raster {
  readonly width: number
  readonly height: number
  readonly pixels: Uint32Array
}

/**
 * Draws a line one pixel wide, column by column and with hard edges; dashes in CSS pixels. A canvas makes an outline of
 * every stroke first, which takes ten times as long for a noisy line: too long for a thousand of them.
 */
export function rasterLine(
  raster: Raster,
  points: Thinned,
  { view, lowN, highN, width }: Plane,
  colour: number,
  dashes: readonly number[] = [],
): void {
  const { first, end } = inView(points, view)
  const perUnit = raster.width / (view.to - view.from)
  const perNewton = raster.height / (highN - lowN)
  const ink = inkAlong(dashes.map(dash => (dash * raster.width) / width))
  let [lastX, lastY] = [Number.NaN, Number.NaN]
  let along = 0
  for (let i = first; i < end; i++) {
    const x = (points.timeS[i]! - view.from) * perUnit
    const y = (highN - points.value[i]!) * perNewton
    if (!Number.isNaN(y)) {
      // A single point between two breaks is still a reading.
      const [fromX, fromY] = Number.isNaN(lastY) ? [x, y] : [lastX, lastY]
      stroke(raster, fromX, fromY, x, y, colour, ink, along)
      if (ink.length > 1) along += Math.sqrt((x - fromX) ** 2 + (y - fromY) ** 2)
    }
    lastX = x
    lastY = y
  }
}

/** Fills, in each column that a straight stroke crosses, the rows that it crosses there. */
function stroke(
  { width, height, pixels }: Raster,
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  colour: number,
  ink: Uint8Array,
  along: number,
): void {
  const slope = x2 > x1 ? (y2 - y1) / (x2 - x1) : 0
  const perColumn = ink.length > 1 ? Math.sqrt(1 + slope ** 2) : 0
  const lastColumn = Math.min(width - 1, Math.floor(x2))
  for (let column = Math.max(0, Math.floor(x1)); column <= lastColumn; column++) {
    if (perColumn > 0 && !ink[Math.floor(along + Math.max(0, column - x1) * perColumn) % ink.length]) continue
    const yIn = column > x1 ? y1 + (column - x1) * slope : y1
    const yOut = column + 1 < x2 ? y1 + (column + 1 - x1) * slope : y2
    const lastRow = Math.min(height - 1, Math.floor(Math.max(yIn, yOut)))
    for (let row = Math.max(0, Math.floor(Math.min(yIn, yOut))); row <= lastRow; row++)
      pixels[row * width + column] = colour
  }
}

/** For each pixel along a line, until the dashes repeat, whether there is ink. */
function inkAlong(dashes: readonly number[]): Uint8Array {
  if (dashes.length === 0) return INK
  const ends = dashes.map((_, i) => Math.round(dashes.slice(0, i + 1).reduce((a, b) => a + b)))
  return Uint8Array.from({ length: Math.max(1, ends.at(-1) ?? 1) }, (_, at) =>
    ends.findIndex(end => at < end) % 2 === 0 ? 1 : 0,
  )
}

const INK = Uint8Array.of(1)
