import { cellForm } from '../cells/cell.ts'
import { namesRecord, sameColumns } from '../words/recordHeader.ts'
import { type ColumnForm, fits } from './columnForm.ts'
import type { Split } from './delimiter.ts'
import { type HeaderLine, headerAbove } from './headerLine.ts'

/** Fewer rows above a header are results or settings; so many may be a record of their own. */
const ROWS_OF_A_RECORD = 10

export interface Block {
  header: HeaderLine | null
  readonly firstLine: number
  rows: number
}

/** Runs of rows of the usual shape, each from its own header or from the first row. */
export function blocksOf(
  texts: readonly string[],
  rows: readonly { line: number; cells: readonly string[] | null }[],
  split: Split,
  forms: readonly ColumnForm[],
): Block[] {
  const blocks: Block[] = []
  let current: Block | null = null
  let textSince = true
  for (const { line, cells } of rows) {
    if (cells === null) {
      textSince = true
      continue
    }
    if (!fits(cells, split, forms)) continue
    if (textSince) {
      const header = headerAbove(texts, line, split, forms)
      if (current === null || (header && replaces(header, current, split))) {
        current = { header, firstLine: header ? header.lastLine + 1 : line, rows: 0 }
        blocks.push(current)
      } else if (header && current.header === null && namesRecord(header, split.delimiter)) {
        // A capture that began within the record: the header that comes later names its columns too.
        current.header = header
      }
      textSince = false
    }
    if (current) current.rows++
  }
  return blocks
}

/**
 * Whether a line of names in the midst begins another table: it is a header beyond doubt, and not the same
 * one again.
 */
function replaces(header: HeaderLine, current: Block, split: Split): boolean {
  if (!namesRecord(header, split.delimiter)) return false
  if (current.header === null) return current.rows < ROWS_OF_A_RECORD
  return !sameColumns(current.header, header)
}

export interface RowsAbove {
  readonly count: number
  readonly firstLine: number
  readonly lastLine: number
  /** Names stand above each run of them: results, told as such. */
  readonly headed: boolean
  /** They are a record of their own, with a header that names its columns otherwise. */
  readonly otherRecord: HeaderLine | null
}

/** The rows of numbers in two columns or more that stand above the record, or `null` where there are none. */
export function rowsAbove(
  texts: readonly string[],
  rows: readonly { line: number; cells: readonly string[] | null }[],
  block: Block,
  split: Split,
): RowsAbove | null {
  const above = rows.filter(
    ({ line, cells }) =>
      line < block.firstLine && cells !== null && cells.length > 1 && areValues(cells, split),
  )
  const [first] = above
  if (!first) return null
  const starts = above.filter(({ line }, i) => above[i - 1]?.line !== line - 1)
  const headers = starts.map(({ line, cells }) => headerAbove(texts, line, split, valueForms(cells ?? [])))
  const otherRecord = headers.find(header => header && namesRecord(header, split.delimiter))
  return {
    count: above.length,
    firstLine: first.line,
    lastLine: above.at(-1)?.line ?? first.line,
    headed: headers.every(header => header !== null),
    otherRecord: above.length >= ROWS_OF_A_RECORD ? (otherRecord ?? null) : null,
  }
}

const valueForms = (cells: readonly string[]): ColumnForm[] => cells.map(() => 'number')

const areValues = (cells: readonly string[], split: Split): boolean =>
  cells.every(cell => !/^(?:text|unit|missing)$/.test(cellForm(cell, split.decimal)))
