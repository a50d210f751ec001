import type { StretchKind } from '../../../core/reading/states.ts'
import type { Thinned } from '../../../core/signal/pyramid.ts'
import type { View } from './view.ts'

/** One line of a curve. It is asked for in slices, so its samples may lie in another thread and be any number. */
export interface CurveLine {
  /** Which line it is; stays the same while its content changes. */
  readonly id: string
  /** Another content of the same line. What was drawn stays until the new slices are there. */
  readonly version: string | number
  readonly label: string
  /** A custom property of the theme (`--accent`) or a colour. */
  readonly colour: string
  readonly widthPx: number
  readonly dashes?: readonly number[]
  /** Over all others and drawn in every frame: the one that is pointed at among many. */
  readonly front?: boolean
  /** Its slice has all its points, whatever is asked for: a closer look asks for none. */
  readonly isComplete?: boolean
  /**
   * The points from `from` to `to` for a drawing `pixels` wide: at most a few a pixel, no extreme lost, forces in
   * newton; NaN breaks the line. The pyramid of the engine makes just that. What comes back at once is drawn at once;
   * a promise that fails leaves the line as it was.
   */
  slice(from: number, to: number, pixels: number): Thinned | Promise<Thinned>
}

/** A stretch of the selvedge, on the lower axis of the curve. */
export interface Band extends View {
  readonly kind: StretchKind
}

/** Something that happened: a short upright tick on the curve with a few plain words. */
export interface CurveTick {
  readonly id: string
  readonly at: number
  /** Where on the curve it stands. */
  readonly forceN: number
  readonly label: string
  /** More words, for those who point at it. */
  readonly title: string
  /** Where room is short, the words of the greatest stay. */
  readonly weight: number
  /** From 1, in the order in which they happened: stands on the curve where the window is too narrow for words. */
  readonly number: number
}

/** The peak, pencilled where it happened, with the interval that holds it. */
export interface CurvePeak {
  readonly at: number
  readonly forceN: number
  readonly lowN: number | null
  readonly highN: number | null
  readonly label: string
}

/** A level over a stretch, as where the cell read something without load. */
export interface CurveLevel extends View {
  readonly forceN: number
  readonly label: string
}

/** An upright line through the whole plot, as where one pull was joined to the one before. */
export interface CurveSeam {
  readonly at: number
  readonly label: string
}

/** A part of the line, where it lies now, that can be moved along the axis. */
export interface CurveMovable extends View {
  /** How far it was moved already. */
  readonly by: number
  /** As far as it may be moved, either way: the length of the axis. */
  readonly whole: View
  readonly label: string
  /** How far it was moved, in words. */
  readonly words: string
  onMove(by: number): void
}
