import type { Thinned } from '../../../core/signal/pyramid.ts'
import { firstAfter, firstAtOrAfter } from '../../../core/signal/search.ts'
import type { Slice } from './slices.ts'
import type { CurveLine } from './types.ts'
import type { View } from './view.ts'

/** What of the plane is to be seen, and how large, in CSS pixels. */
export interface Plane {
  readonly view: View
  readonly lowN: number
  readonly highN: number
  readonly width: number
  readonly height: number
}

/** Which points of a slice are in view, with one on either side so that the line runs to the edge. */
export function inView(
  { timeS }: Thinned,
  { from, to }: View,
): { readonly first: number; readonly end: number } {
  return {
    first: Math.max(0, firstAtOrAfter(timeS, from) - 1),
    end: Math.min(timeS.length, firstAfter(timeS, to) + 1),
  }
}

/**
 * Points of one stroke. A stroke is made an outline before it is filled, and the time for that grows much faster than its
 * length: a noisy line of 2,400 points takes ten times as long in one piece as in pieces of 32.
 */
const STROKE_POINTS = 32

/** With more points than pixels no corner is seen, and round ones take half of the time. */
const joinOf = (points: number, width: number): CanvasLineJoin => (points > width ? 'bevel' : 'round')

/** What of a drawing is to be done again: all from `fromX` on, in CSS pixels, by the points from `start` on. */
export interface Tail {
  readonly fromX: number
  readonly start: number
}

/** A line as it was drawn; `sharp`: pixels of the canvas for each of CSS. */
export interface Painted {
  readonly line: CurveLine
  readonly slice: Slice
  readonly plane: Plane
  readonly sharp: number
}

/**
 * What is to be drawn anew of a line that has only grown at its end since it was drawn; `null`: all of it. To the left
 * of it every stroke stays as it was.
 */
export function tailOf(before: Painted, now: Painted): Tail | null {
  const { plane, sharp, line } = now
  const isSamePlane = VIEWED.every(of => before.plane[of] === plane[of])
  const isSameView = before.plane.view.from === plane.view.from && before.plane.view.to === plane.view.to
  const isSameLine = before.line.colour === line.colour && before.line.widthPx === line.widthPx
  if (!isSamePlane || !isSameView || !isSameLine || before.sharp !== sharp) return null
  if (before.line.dashes?.length || line.dashes?.length) return null
  const [was, is] = [before.slice.points, now.slice.points]
  const [seen, { first, end }] = [inView(was, plane.view), inView(is, plane.view)]
  if (seen.first !== first || joinOf(seen.end - first, plane.width) !== joinOf(end - first, plane.width))
    return null
  let same = first
  const most = Math.min(seen.end, end)
  while (same < most && was.timeS[same] === is.timeS[same] && Object.is(was.value[same], is.value[same]))
    same++
  if (same === first) return null
  const perUnit = plane.width / (plane.view.to - plane.view.from)
  const xOf = (i: number): number => (is.timeS[i]! - plane.view.from) * perUnit
  // The corner at the last point that stays may have become another one.
  const fromX = Math.floor((xOf(same - 1) - line.widthPx) * sharp) / sharp
  if (fromX <= 0) return null
  let start = first + Math.floor((same - 1 - first) / STROKE_POINTS) * STROKE_POINTS
  while (start > first && xOf(start) >= fromX - line.widthPx) start -= STROKE_POINTS
  return { fromX, start }
}

const VIEWED = ['lowN', 'highN', 'width', 'height'] as const

/**
 * Draws one line, or only what comes of it from the point `start` on, which must be the first of a stroke. The context's
 * units are CSS pixels. Returns how many points there were.
 */
export function paintLine(
  context: CanvasRenderingContext2D,
  line: CurveLine,
  { points }: Slice,
  { view, lowN, highN, width, height }: Plane,
  colourOf: (colour: string) => string,
  start?: number,
): number {
  const { first, end } = inView(points, view)
  const perUnit = width / (view.to - view.from)
  const perNewton = height / (highN - lowN)
  const dashes = line.dashes ?? []
  context.strokeStyle = colourOf(line.colour)
  context.lineWidth = line.widthPx
  context.lineJoin = joinOf(end - first, width)
  context.setLineDash([...dashes])
  context.lineDashOffset = 0
  context.beginPath()
  let lastX = 0
  let lastY = 0
  let lengthPx = 0
  const from = start ?? first
  let isJoined = false
  for (let i = from; i < end; i++) {
    const value = points.value[i]!
    if (Number.isNaN(value)) {
      isJoined = false
      continue
    }
    const x = (points.timeS[i]! - view.from) * perUnit
    const y = (highN - value) * perNewton
    if (i === from && i > first && !Number.isNaN(points.value[i - 1]!)) context.moveTo(x, y)
    else if (!isJoined) {
      context.moveTo(x, y)
      // A single point between two breaks is still a reading.
      context.lineTo(x + 0.5, y)
    } else {
      context.lineTo(x, y)
      if (dashes.length > 0) lengthPx += Math.hypot(x - lastX, y - lastY)
    }
    isJoined = true
    // Strokes begin at the same points however long the line has become.
    if (i > from && (i - first) % STROKE_POINTS === 0) {
      context.stroke()
      // The dashes of the next piece go on where those of this one end.
      context.lineDashOffset = lengthPx
      context.beginPath()
      context.moveTo(x, y)
    }
    lastX = x
    lastY = y
  }
  context.stroke()
  return end - first
}

/** Least and greatest force of what is in view; `null` where nothing is. */
export function rangeInView(slices: readonly (Slice | null)[], view: View): [number, number] | null {
  let least = Number.POSITIVE_INFINITY
  let greatest = Number.NEGATIVE_INFINITY
  for (const slice of slices) {
    if (!slice) continue
    const { first, end } = inView(slice.points, view)
    for (let i = first; i < end; i++) {
      const v = slice.points.value[i]!
      if (v < least) least = v
      if (v > greatest) greatest = v
    }
  }
  return greatest >= least ? [least, greatest] : null
}

/** The force of a line at a place: of its nearest point in the slice; `null` where there is none. */
export function forceAt({ points }: Slice, at: number): number | null {
  const { timeS, value } = points
  const after = firstAtOrAfter(timeS, at)
  const before = Math.max(0, after - 1)
  const i = after < timeS.length && timeS[after]! - at < at - timeS[before]! ? after : before
  const found = value[i]
  return found === undefined || Number.isNaN(found) ? null : found
}

/** The line nearest to a place of the plot, at most `mostN` of force away; `null` where there is none. */
export function lineAt(
  drawn: readonly { readonly line: CurveLine; readonly slice: Slice | null }[],
  at: number,
  forceN: number,
  mostN: number,
): string | null {
  let nearest: string | null = null
  let leastN = mostN
  for (const { line, slice } of drawn) {
    const lineN =
      slice && at >= (slice.points.timeS[0] ?? at) && at <= (slice.points.timeS.at(-1) ?? at)
        ? forceAt(slice, at)
        : null
    if (lineN === null || Math.abs(lineN - forceN) > leastN) continue
    leastN = Math.abs(lineN - forceN)
    nearest = line.id
  }
  return nearest
}
