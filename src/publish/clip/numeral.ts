import type { Words } from './shapes.ts'

/**
 * Cells of the bold typeface, in em. Its figures are not of one width and a canvas cannot ask for those that
 * are, so each stands in the middle of a cell as wide as the widest (0: 652/1000 em). Nothing moves while the
 * force counts up.
 */
const FIGURE_EM = 0.655
const POINT_EM = 0.25
const MINUS_EM = 0.62

const cellEm = (sign: string): number => (sign === '.' ? POINT_EM : sign === '−' ? MINUS_EM : FIGURE_EM)

/** Width of a number set in cells, in px. */
export const numeralWidth = (text: string, size: number): number =>
  Array.from(text).reduce((sum, sign) => sum + cellEm(sign), 0) * size

/** A number in figures of one width, its right end at `x`. */
export function numeralWords(
  text: string,
  { x, y, size, colour, halo }: Pick<Words, 'x' | 'y' | 'size' | 'colour' | 'halo'>,
): Words[] {
  let left = x - numeralWidth(text, size)
  return Array.from(text).map(sign => {
    const width = cellEm(sign) * size
    const middle = left + width / 2
    left += width
    return { kind: 'words', x: middle, y, text: sign, size, bold: true, anchor: 'middle', colour, halo }
  })
}
