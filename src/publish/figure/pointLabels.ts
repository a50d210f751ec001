import { textWidth } from './textWidth.ts'

export interface PointsToName {
  readonly name: string
  /** Where its marks stand, in px, in the order in which the name is tried beside them. */
  readonly marks: readonly { readonly x: number; readonly y: number }[]
}

export interface PointLabelRoom {
  readonly left: number
  readonly right: number
  readonly sizePx: number
  /** All marks of the figure, in px: no name stands over one where that can be helped. */
  readonly taken: readonly { readonly x: number; readonly y: number }[]
}

const BESIDE_PX = 10
/** A mark takes this much around its middle. */
const MARK_PX = 7

interface Box {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

const meet = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom

/**
 * A name beside one mark of each of several rows of marks: the first place, to the right of a mark or to its left,
 * that is free; over others only where none is. Gives the left end and the baseline of each.
 */
export function pointLabels(
  wanted: readonly PointsToName[],
  { left, right, sizePx, taken }: PointLabelRoom,
): { readonly x: number; readonly y: number }[] {
  const boxes: Box[] = taken.map(({ x, y }) => ({
    left: x - MARK_PX,
    right: x + MARK_PX,
    top: y - MARK_PX,
    bottom: y + MARK_PX,
  }))
  return wanted.map(({ name, marks }) => {
    const width = textWidth(name, sizePx)
    const places = marks
      .flatMap(({ x, y }) => [
        { x: x + BESIDE_PX, y: y + sizePx / 3 },
        { x: x - BESIDE_PX - width, y: y + sizePx / 3 },
      ])
      .filter(({ x }) => x >= left && x + width <= right)
    const free = places.find(place => !boxes.some(box => meet(box, boxOf(place, width, sizePx))))
    const place = free ?? places[0] ?? { x: left, y: marks[0]?.y ?? 0 }
    boxes.push(boxOf(place, width, sizePx))
    return place
  })
}

const boxOf = ({ x, y }: { x: number; y: number }, width: number, sizePx: number): Box => ({
  left: x,
  right: x + width,
  top: y - 0.8 * sizePx,
  bottom: y + 0.25 * sizePx,
})
