import { parseNumber } from '../cells/number.ts'
import type { Block } from './blocks.ts'
import type { Split } from './delimiter.ts'

/** So many rows below tell how numbers are written, and no fewer. */
const MOST_ROWS = 20
const FEWEST_ROWS = 3

/**
 * Line on which the samples of a block begin: below its header or, where a row of the numbers of its columns
 * (`1;2;3`) stands there, below that. Such a row could be a sample; it is none where the rows below begin
 * with a lower number, or write some column with a fixed number of decimals, which this row lacks.
 */
export function belowColumnNumbers(
  rows: readonly { line: number; cells: readonly string[] | null }[],
  block: Block,
  split: Split,
): number {
  const full = rows.filter(row => row.line >= block.firstLine && row.cells?.length === split.width)
  const [first, ...below] = full.slice(0, MOST_ROWS + 1)
  const cells = first?.cells
  if (!first || !cells || cells.length < 2 || below.length < FEWEST_ROWS) return block.firstLine
  if (!cells.every((cell, c) => cell === String(c + 1))) return block.firstLine
  const next = parseNumber(below[0]?.cells?.[0] ?? '', split.decimal)
  // Without names above, the first of some small whole numbers may as well be a reading.
  const runsBack = block.header !== null && next !== null && next <= 1
  const column = (c: number): string[] => below.map(row => row.cells?.[c] ?? '')
  const fixed = cells.some((_, c) => hasFixedDecimals(column(c)))
  return runsBack || fixed ? first.line + 1 : block.firstLine
}

function hasFixedDecimals(cells: readonly string[]): boolean {
  const decimals = cells.map(cell => /^[-+]?\d+[.,](\d+)$/.exec(cell)?.[1]?.length ?? 0)
  return decimals.every(count => count > 0 && count === decimals[0])
}
