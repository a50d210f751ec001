/** A rectangle, in pixels of a picture. */
export interface Area {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}
