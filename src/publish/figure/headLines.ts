import type { Look } from './look.ts'
import { type Svg, tag, words } from './svg.ts'
import { brokenTo, textWidth } from './textWidth.ts'

/** A sentence over a figure, broken at spaces to the width; its lines and how high they stand together. */
export function headLines(
  text: string,
  {
    x,
    y,
    width,
    look,
    size = look.size.heading - 2,
  }: { x: number; y: number; width: number; look: Look; size?: number },
): { svg: Svg; height: number } {
  const lines = brokenTo(text, width, size)
  return {
    svg: tag(
      'g',
      { 'font-size': size, 'font-weight': 700, fill: look.ink },
      ...lines.map((line, i) => words(x, y + i * lineOf(size), line)),
    ),
    height: lines.length * lineOf(size),
  }
}

/** From one line of text to the next. */
export const lineOf = (size: number): number => Math.round(size * 1.33)

/** Small lines of text under a plot, broken to the width. */
export function footLines(
  text: string,
  { x, y, width, look }: { x: number; y: number; width: number; look: Look },
): { svg: Svg; height: number } {
  const { small } = look.size
  const lines = brokenTo(text, width, small)
  return {
    svg: tag(
      'g',
      { 'font-size': small, fill: look.pencil },
      ...lines.map((line, i) => words(x, y + i * lineOf(small), line)),
    ),
    height: lines.length * lineOf(small),
  }
}

/** Items one after another, broken to the width between them: an item stands on one line wherever it fits. */
export function itemLines(
  items: readonly string[],
  { x, y, width, look }: { x: number; y: number; width: number; look: Look },
): { svg: Svg; height: number } {
  const { small } = look.size
  const lines: string[] = []
  for (const item of items) {
    const joined = lines.length === 0 ? null : `${lines.at(-1)} · ${item}`
    if (joined !== null && textWidth(joined, small) <= width) lines[lines.length - 1] = joined
    else lines.push(...brokenTo(item, width, small))
  }
  return {
    svg: tag(
      'g',
      { 'font-size': small, fill: look.ink },
      ...lines.map((line, i) => words(x, y + i * lineOf(small), line)),
    ),
    height: lines.length * lineOf(small),
  }
}

/** The gap wished for, or what so many places have between two ends where that is less. */
export const gapIn = (count: number, wished: number, [from, to]: readonly [number, number]): number =>
  count < 2 ? wished : Math.min(wished, (to - from) / (count - 1))

/** Places along a line, kept in order and apart by `gap`, moved as little as one pass down and one up allow. */
export function apart(places: readonly number[], gap: number, most: number): number[] {
  const order = Array.from(places.keys()).sort((i, j) => places[i]! - places[j]!)
  const moved = [...places]
  let before = Number.NEGATIVE_INFINITY
  for (const i of order) {
    moved[i] = Math.max(moved[i]!, before + gap)
    before = moved[i]!
  }
  let after = most + gap
  for (const i of order.toReversed()) {
    moved[i] = Math.min(moved[i]!, after - gap)
    after = moved[i]!
  }
  return moved
}
