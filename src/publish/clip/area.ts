/** A rectangle, in pixels of a picture. */
export interface Area {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** An area with a margin around it, out to even pixels: colours of a video are kept for two by two pixels. */
export function evenArea({ x, y, width, height }: Area, margin: number): Area {
  const left = 2 * Math.floor((x - margin) / 2)
  const top = 2 * Math.floor((y - margin) / 2)
  return {
    x: left,
    y: top,
    width: 2 * Math.ceil((x + width + margin - left) / 2),
    height: 2 * Math.ceil((y + height + margin - top) / 2),
  }
}

/** What of an area lies within another; of no width or height where nothing does. */
export function within({ x, y, width, height }: Area, other: Area): Area {
  const left = Math.max(x, other.x)
  const top = Math.max(y, other.y)
  return {
    x: left,
    y: top,
    width: Math.max(0, Math.min(x + width, other.x + other.width) - left),
    height: Math.max(0, Math.min(y + height, other.y + other.height) - top),
  }
}

export const meet = (a: Area, b: Area): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height
