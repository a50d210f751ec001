import { fine, type Outcome, wrong } from '../core/problem.ts'
import { plainWidth } from './cells/cell.ts'
import { type Decimal, numberForm, parseNumber } from './cells/number.ts'
import { detectEncoding } from './lines/encoding.ts'
import {
  commentText,
  type Delimiter,
  linesOf,
  quoteStaysOpen,
  splitCells,
  withoutResidue,
} from './lines/split.ts'

/** A small table of a person's making: specimens, calibration points, results to compare. */
export interface Table {
  readonly name: string
  /** The header's cells; empty strings where the first line is one of numbers. */
  readonly names: readonly string[]
  readonly rows: readonly TableRow[]
  readonly decimal: Decimal
  readonly delimiter: Delimiter
  readonly encoding: string
}

export interface TableRow {
  /** Line of the file, from 1. */
  readonly line: number
  /** As many as the header has, trimmed; `''` where missing. */
  readonly cells: readonly string[]
}

const DELIMITERS: readonly Delimiter[] = ['\t', ';', '|', ',', ' ']
/** A table that people write by hand is smaller than this. */
const MOST_BYTES = 64 << 20
const MOST_QUOTED_LINES = 50

/**
 * Reads a small table with the tolerance of the log reader: any delimiter, decimal mark, encoding and line
 * end, quoted cells, comments, blank lines, residue. Problems: empty, binary, too large, a row with more
 * cells than the header.
 */
export function readTable(bytes: Uint8Array, name: string): Outcome<Table> {
  if (bytes.length > MOST_BYTES) {
    return wrong({
      where: name,
      what: 'is too large for a table.',
      cure: 'Give the table itself, not a log.',
    })
  }
  const encoding = detectEncoding(bytes, name)
  if (!encoding.ok) return encoding
  const text = new TextDecoder(encoding.value.label).decode(bytes)
  const physical = linesOf(text)
  const delimiter = tableDelimiter(physical)
  const lines = logicalLines(physical, delimiter)
  const [first, ...rest] = lines.map(({ line, text }) => ({
    line,
    cells: withoutEmptyEnd(splitCells(plainWidth(text), delimiter)),
  }))
  if (!first) {
    return wrong({
      where: name,
      what: 'the table is empty.',
      cure: 'A table has a line of names and a line for each row.',
    })
  }
  const headless = first.cells.every(cell => isNumber(cell))
  const data = headless ? [first, ...rest] : rest
  const width = headless ? Math.max(...data.map(row => row.cells.length)) : first.cells.length
  const tooWide = data.filter(row => row.cells.length > width)
  if (tooWide.length > 0) {
    return wrong(
      ...tooWide.slice(0, 5).map(row => ({
        where: `${name}, line ${row.line}`,
        what: `has ${row.cells.length} cells, but line ${first.line} names ${width}.`,
        cure: 'Put quotes around a cell that holds the delimiter, or add a name for the column.',
      })),
    )
  }
  return fine({
    name,
    names: headless ? Array.from({ length: width }, () => '') : first.cells,
    rows: data.map(({ line, cells }) => ({
      line,
      cells: Array.from({ length: width }, (_, c) => cells[c] ?? ''),
    })),
    decimal: tableDecimal(data.map(row => row.cells)),
    delimiter,
    encoding: encoding.value.label,
  })
}

/** The number in a cell of the table, `null` where it is none. */
export const tableNumber = (table: Table, cell: string): number | null => parseNumber(cell, table.decimal)

const isNumber = (cell: string): boolean =>
  numberForm(cell, 'point') !== null || numberForm(cell, 'comma') !== null

function withoutEmptyEnd(cells: readonly string[]): string[] {
  const kept = [...cells]
  while (kept.length > 1 && kept.at(-1) === '') kept.pop()
  return kept
}

/** The delimiter that gives most lines the same number of cells, more than one; `''` where none does. */
function tableDelimiter(lines: readonly string[]): Delimiter {
  const texts = lines
    .map(withoutResidue)
    .filter(text => text !== '' && commentText(text) === null)
    .slice(0, 500)
  let best: { delimiter: Delimiter; agreeing: number } = { delimiter: '', agreeing: 0 }
  for (const delimiter of DELIMITERS) {
    const widths = texts.map(text => splitCells(text, delimiter).length)
    const first = widths[0] ?? 0
    if (first < 2) continue
    const agreeing = widths.filter(width => width === first).length
    if (agreeing > best.agreeing) best = { delimiter, agreeing }
  }
  return best.delimiter
}

/** Lines without comments and blanks; a quoted cell may run over several. */
function logicalLines(lines: readonly string[], delimiter: Delimiter): { line: number; text: string }[] {
  const logical: { line: number; text: string }[] = []
  for (let i = 0; i < lines.length; i++) {
    const line = i + 1
    let text = lines[i] ?? ''
    let next = i
    while (quoteStaysOpen(text, delimiter) && next + 1 < lines.length && next - i < MOST_QUOTED_LINES) {
      next++
      text += `\n${lines[next]}`
    }
    if (quoteStaysOpen(text, delimiter)) text = lines[i] ?? ''
    else i = next
    const bare = withoutResidue(text)
    if (bare.trim() !== '' && commentText(bare, delimiter) === null) logical.push({ line, text: bare })
  }
  return logical
}

/** Comma where some cell can only be read so, and none only with a point. */
function tableDecimal(rows: readonly (readonly string[])[]): Decimal {
  let commas = 0
  let points = 0
  for (const cell of rows.flat()) {
    const point = numberForm(cell, 'point')
    const comma = numberForm(cell, 'comma')
    if (comma === 'plain' && point !== 'plain') commas++
    else if (point === 'plain' && comma !== 'plain') points++
  }
  return commas > points ? 'comma' : 'point'
}
