/**
 * What a picture of a clip is made of: a plain list, drawn in order, onto a canvas (`drawShapes`) or as SVG
 * (`shapesSvg`). Lengths are in pixels of the picture, angles do not occur, colours are `#rrggbb`.
 */
export type Shape = Box | Stroke | Dots | Ring | Words

/** A filled rectangle. */
export interface Box {
  readonly kind: 'box'
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
  readonly radius: number
  readonly colour: string
  /** 0 lets all through, 1 nothing. */
  readonly opacity: number
}

/** A line through `points` (x, y, x, y …); a pair of NaN lifts the pen. */
export interface Stroke {
  readonly kind: 'stroke'
  readonly points: readonly number[]
  readonly width: number
  readonly colour: string
  readonly dashes: readonly number[]
}

/** Filled discs of one size at `points` (x, y, x, y …). */
export interface Dots {
  readonly kind: 'dots'
  readonly points: readonly number[]
  readonly radius: number
  readonly colour: string
}

/** A circle with an outline. */
export interface Ring {
  readonly kind: 'ring'
  readonly x: number
  readonly y: number
  readonly radius: number
  readonly fill: string
  readonly colour: string
  readonly width: number
}

/** Text on its baseline at (x, y). */
export interface Words {
  readonly kind: 'words'
  readonly x: number
  readonly y: number
  readonly text: string
  readonly size: number
  readonly bold: boolean
  readonly anchor: 'start' | 'middle' | 'end'
  readonly colour: string
  /** A rim around the letters, so that they are legible on anything. */
  readonly halo: { readonly colour: string; readonly width: number } | null
}
