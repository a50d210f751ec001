import { textWidth } from '../../../src/publish/figure/textWidth.ts'
import { type SvgElement, svgTree } from '../../../src/publish/node/pdf/svgTree.ts'

/** A word in a figure and the room that it takes. */
export interface Box {
  readonly text: string
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

interface Inherited {
  readonly size: number
  readonly anchor: string
  readonly dx: number
  readonly dy: number
}

/** Every text of a figure with its room: letters reach three quarters of their size above the line and a fifth below. */
export function textBoxes(svg: string): { boxes: Box[]; frame: Box } {
  const root = svgTree(svg)
  const [left, top, width, height] = root.given.viewBox!.split(' ').map(Number) as [
    number,
    number,
    number,
    number,
  ]
  const boxes: Box[] = []
  const walk = (element: SvgElement, from: Inherited): void => {
    const { given } = element
    const moved = /translate\(([-\d.]+)[ ,]([-\d.]+)\)/.exec(given.transform ?? '')
    const own: Inherited = {
      size: Number(given['font-size'] ?? from.size),
      anchor: given['text-anchor'] ?? from.anchor,
      dx: from.dx + Number(moved?.[1] ?? 0),
      dy: from.dy + Number(moved?.[2] ?? 0),
    }
    if (element.name === 'text') {
      const x = own.dx + Number(given.x)
      const y = own.dy + Number(given.y)
      const wide = textWidth(element.text, own.size)
      const start = own.anchor === 'end' ? x - wide : own.anchor === 'middle' ? x - wide / 2 : x
      boxes.push({
        text: element.text,
        left: start,
        right: start + wide,
        top: y - 0.75 * own.size,
        bottom: y + 0.2 * own.size,
      })
    }
    for (const child of element.children) walk(child, own)
  }
  walk(root, { size: 12, anchor: 'start', dx: 0, dy: 0 })
  return { boxes, frame: { text: '', left, top, right: left + width, bottom: top + height } }
}

/** What a figure's words do wrong: run out of the frame, or lie over one another. */
export function wordFaults(svg: string): string[] {
  const { boxes, frame } = textBoxes(svg)
  const out = boxes.filter(
    b => b.left < frame.left || b.right > frame.right || b.top < frame.top || b.bottom > frame.bottom,
  )
  const over = boxes.flatMap((a, i) =>
    boxes
      .slice(i + 1)
      .filter(b => overlap(a, b))
      .map(b => `“${a.text}” lies over “${b.text}”`),
  )
  return [...out.map(({ text }) => `“${text}” runs out of the frame`), ...over]
}

/** A hair of the side bearings may touch. */
const HAIR_PX = 1

const overlap = (a: Box, b: Box): boolean =>
  a.left < b.right - HAIR_PX &&
  b.left < a.right - HAIR_PX &&
  a.top < b.bottom - HAIR_PX &&
  b.top < a.bottom - HAIR_PX
