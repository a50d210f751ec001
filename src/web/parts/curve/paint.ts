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

/** Draws one line. The context's units are CSS pixels. Returns how many points there were. */
export function paintLine(
  context: CanvasRenderingContext2D,
  line: CurveLine,
  { points }: Slice,
  { view, lowN, highN, width, height }: Plane,
  colourOf: (colour: string) => string,
): number {
  const { first, end } = inView(points, view)
  const perUnit = width / (view.to - view.from)
  const perNewton = height / (highN - lowN)
  const dashes = line.dashes ?? []
  context.strokeStyle = colourOf(line.colour)
  context.lineWidth = line.widthPx
  // With more points than pixels no corner is seen, and round ones take half of the time.
  context.lineJoin = end - first > width ? 'bevel' : 'round'
  context.setLineDash([...dashes])
  context.lineDashOffset = 0
  context.beginPath()
  let lastX = 0
  let lastY = 0
  let lengthPx = 0
  let inStroke = 0
  for (let i = first; i < end; i++) {
    const value = points.value[i]!
    if (Number.isNaN(value)) {
      inStroke = 0
      continue
    }
    const x = (points.timeS[i]! - view.from) * perUnit
    const y = (highN - value) * perNewton
    if (inStroke === 0) {
      context.moveTo(x, y)
      // A single point between two breaks is still a reading.
      context.lineTo(x + 0.5, y)
    } else {
      context.lineTo(x, y)
      if (dashes.length > 0) lengthPx += Math.hypot(x - lastX, y - lastY)
    }
    inStroke++
    if (inStroke > STROKE_POINTS) {
      context.stroke()
      // The dashes of the next piece go on where those of this one end.
      context.lineDashOffset = lengthPx
      context.beginPath()
      context.moveTo(x, y)
      inStroke = 1
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
