import { textWidth } from '../figure/textWidth.ts'
import { type Area, evenArea, meet, within } from './area.ts'
import type { Shape, Words } from './shapes.ts'

/**
 * The parts of a picture that must be drawn again to turn `before` into `after`: outside of them both look
 * the same. They begin and end at even pixels, or at the edges of `whole`, and do not overlap. Pictures made
 * of other shapes are drawn anew as a whole: that happens when something new appears, which is seldom.
 */
export function changedAreas(before: readonly Shape[], after: readonly Shape[], whole: Area): Area[] {
  if (before.length !== after.length) return [whole]
  const areas: Area[] = []
  for (const [i, shape] of after.entries()) {
    const was = before[i]!
    if (was.kind !== shape.kind) return [whole]
    const changed = areaBetween(was, shape)
    if (changed !== null) areas.push(within(evenArea(changed, EDGE), whole))
  }
  return apart(areas.filter(({ width, height }) => width > 0 && height > 0))
}

/** Whether any of a shape may lie within an area. */
export const touches = (shape: Shape, area: Area): boolean => meet(grown(boundsOf(shape, 0), EDGE), area)

/** Soft edges reach beyond a shape's own, in pixels. */
const EDGE = 2

function areaBetween(was: Shape, now: Shape): Area | null {
  const { points: pointsWas, ...restWas } = withPoints(was)
  const { points, ...rest } = withPoints(now)
  const same = JSON.stringify(restWas) === JSON.stringify(rest)
  const shared = same ? sharedLength(pointsWas, points) : 0
  if (same && shared === points.length && shared === pointsWas.length) return null
  // A line that has grown changes from its last point that stays.
  const from = Math.max(0, shared - 2)
  return around(boundsOf(was, from), boundsOf(now, from))
}

const withPoints = (shape: Shape): { readonly points: readonly number[] } =>
  'points' in shape ? shape : { ...shape, points: [] }

/** How many of the numbers are the same from the start on, in pairs; NaN is NaN. */
function sharedLength(a: readonly number[], b: readonly number[]): number {
  const most = Math.min(a.length, b.length)
  let i = 0
  while (i < most && Object.is(a[i], b[i]) && Object.is(a[i + 1], b[i + 1])) i += 2
  return i
}

/** What a shape may cover; of a line or of dots, from the number `from` of `points` on. */
function boundsOf(shape: Shape, from: number): Area {
  switch (shape.kind) {
    case 'box':
      return shape
    case 'stroke':
      return boundsOfPoints(shape.points, from, shape.width)
    case 'dots':
      return boundsOfPoints(shape.points, from, shape.radius)
    case 'ring':
      return grown({ x: shape.x, y: shape.y, width: 0, height: 0 }, shape.radius + shape.width)
    case 'words':
      return boundsOfWords(shape)
  }
}

function boundsOfPoints(points: readonly number[], from: number, margin: number): Area {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity]
  for (let i = from; i < points.length; i += 2) {
    const x = points[i]!
    const y = points[i + 1]!
    if (Number.isNaN(x)) continue
    if (x < left) left = x
    if (x > right) right = x
    if (y < top) top = y
    if (y > bottom) bottom = y
  }
  return left > right
    ? { x: 0, y: 0, width: 0, height: 0 }
    : grown({ x: left, y: top, width: right - left, height: bottom - top }, margin)
}

/** Wider than the letters are: a renderer may set them a little apart. */
function boundsOfWords({ x, y, text, size, anchor, halo }: Words): Area {
  const width = 1.1 * textWidth(text, 1.1 * size)
  const left = anchor === 'start' ? x : anchor === 'end' ? x - width : x - width / 2
  return grown({ x: left, y: y - 1.1 * size, width, height: 1.5 * size }, 0.2 * size + (halo?.width ?? 0))
}

const grown = ({ x, y, width, height }: Area, by: number): Area => ({
  x: x - by,
  y: y - by,
  width: width + 2 * by,
  height: height + 2 * by,
})

function around(a: Area, b: Area): Area {
  if (a.width === 0 && a.height === 0) return b
  if (b.width === 0 && b.height === 0) return a
  const [x, y] = [Math.min(a.x, b.x), Math.min(a.y, b.y)]
  return {
    x,
    y,
    width: Math.max(a.x + a.width, b.x + b.width) - x,
    height: Math.max(a.y + a.height, b.y + b.height) - y,
  }
}

/** Areas that overlap become one around both. */
function apart(areas: readonly Area[]): Area[] {
  const found: Area[] = []
  for (let area of areas) {
    for (let i = found.length - 1; i >= 0; i--) {
      if (!meet(found[i]!, area)) continue
      area = around(found[i]!, area)
      found.splice(i, 1)
      // What it has grown into may meet those that were looked at already.
      i = found.length
    }
    found.push(area)
  }
  return found
}
