import { type Area, evenArea, within } from './area.ts'
import { type FrameTimes, frameTimeS } from './frameTimes.ts'
import { overlayPlan } from './overlayPlan.ts'
import { type OverlayLook, overlayKey, overlayShapes } from './overlayShapes.ts'
import type { Shape } from './shapes.ts'
import type { Take } from './take.ts'

/** A clip that can be drawn: any frame of it, in any order. */
export interface Clip {
  readonly width: number
  readonly height: number
  readonly times: FrameTimes
  /** What lies outside is transparent in every frame. Begins and ends at even pixels, or at the edge. */
  readonly part: Area
  /** Colour that transparent pixels have underneath. */
  readonly ground: string
  shapesAt(frame: number): readonly Shape[]
  /** The same for two frames exactly when they look the same. */
  keyAt(frame: number): string
}

/** The overlay as a clip. Frame k shows what was known at its time, and nothing later. */
export function overlayClip(takes: readonly Take[], times: FrameTimes, style: OverlayLook): Clip {
  const { width, height, look } = style
  const { plate, unitPx } = overlayPlan(
    width,
    height,
    takes.map(take => take.track),
  )
  return {
    width,
    height,
    times,
    part: within(evenArea(plate, 12 * unitPx), { x: 0, y: 0, width, height }),
    ground: look.paper,
    shapesAt: frame => overlayShapes(takes, frameTimeS(times, frame), style),
    keyAt: frame => overlayKey(takes, frameTimeS(times, frame)),
  }
}
