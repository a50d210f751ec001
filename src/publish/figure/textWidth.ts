import { keepTogether } from '../../core/units/keepTogether.ts'

/**
 * Advance widths of the shipped typeface in thousandths of its size, the wider of its two weights, for the characters
 * from space to tilde; read from the `hmtx` tables of assets/fonts.
 */
const ADVANCES = [
  320, 283, 410, 783, 619, 977, 705, 222, 366, 366, 434, 618, 243, 374, 243, 442, 652, 448, 586, 605, 626,
  612, 632, 543, 625, 598, 243, 243, 573, 618, 573, 614, 780, 690, 639, 673, 686, 580, 548, 719, 690, 458,
  560, 659, 539, 842, 700, 764, 626, 781, 654, 619, 617, 690, 656, 883, 699, 687, 621, 333, 442, 333, 589,
  430, 314, 553, 596, 520, 596, 566, 367, 597, 572, 315, 259, 567, 314, 886, 572, 573, 596, 601, 372, 534,
  379, 570, 526, 723, 533, 518, 516, 370, 234, 370, 555,
]

const OTHERS: Readonly<Record<string, number>> = {
  '±': 618,
  '−': 602,
  '·': 301,
  '…': 803,
  '“': 498,
  '”': 498,
  '’': 277,
  '≥': 594,
  '–': 508,
  '×': 539,
}
/** Letters with marks are as wide as without; those of other scripts may fill the whole square. */
const LATIN = 700
const SQUARE = 1000
const LAST_LATIN = 0x24f

const advanceOf = (letter: string): number => {
  const code = letter.codePointAt(0) ?? 0
  return ADVANCES[code - 32] ?? OTHERS[letter] ?? (code <= LAST_LATIN ? LATIN : SQUARE)
}

/** Width of a text in px, on the safe side: as if it were bold. */
export function textWidth(text: string, sizePx: number): number {
  let thousandths = 0
  for (const letter of text) thousandths += advanceOf(letter)
  return (thousandths * sizePx) / 1000
}

/** The text, cut with an ellipsis where it is wider than the room. */
export function fitted(text: string, width: number, sizePx: number): string {
  if (textWidth(text, sizePx) <= width) return text
  const letters = Array.from(text)
  while (letters.length > 1 && textWidth(`${letters.join('')}…`, sizePx) > width) letters.pop()
  return `${letters.join('').trimEnd()}…`
}

/** A text broken to the width, at spaces alone, and never within a figure and its unit. */
export const brokenTo = (text: string, width: number, sizePx: number): string[] =>
  broken(keepTogether(text).split(/(?<= )/), width, sizePx).map(line => line.replaceAll('\u00a0', ' '))

/** A name broken to the width in at most two lines, at spaces and behind hyphens, and cut where it is longer still. */
export function nameLines(name: string, width: number, sizePx: number): string[] {
  const lines = broken(name.split(/(?<=[ -])/), width, sizePx)
  const kept = lines.length > 2 ? [lines[0]!, lines.slice(1).join(' ')] : lines
  return kept.map(line => fitted(line, width, sizePx))
}

function broken(pieces: readonly string[], width: number, sizePx: number): string[] {
  const lines: string[] = []
  for (const piece of pieces) {
    const last = lines.at(-1)
    if (last !== undefined && textWidth((last + piece).trimEnd(), sizePx) <= width)
      lines[lines.length - 1] = last + piece
    else lines.push(piece)
  }
  return lines.map(line => line.trimEnd())
}
