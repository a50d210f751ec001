import { cellForm, isValue, plainWidth } from '../cells/cell.ts'
import { type Decimal, type DecimalMarks, numberForm } from '../cells/number.ts'
import { type Delimiter, splitCells } from './split.ts'

export interface Split {
  readonly delimiter: Delimiter
  readonly decimal: DecimalMarks
  /** Cells of most rows. */
  readonly width: number
  /** Share of the lines that it explains, 0 to 1. */
  readonly score: number
  /** Every number with a comma could as well have it as a thousands mark. */
  readonly decimalUnclear: boolean
}

/** In the order of preference where two explain the lines equally well. */
const DELIMITERS: readonly Delimiter[] = ['\t', ';', '|', ',', ' ', '']

/** The cells of a line without empty ones at its end, which trailing delimiters leave. */
export const cellsOf = (line: string, delimiter: Delimiter): string[] =>
  withoutEmptyEnd(splitCells(plainWidth(asWritten(line)), delimiter))

/** `b'12.3\\r\\n'`, as a script prints the bytes that it received. */
const BYTES = /(^|[\s,;[(])b?'([^']*?)(?:\\[rnt])*'/g
/** `(0.1, 12.3)`: a row in brackets, as a script prints it. */
const IN_BRACKETS = /^\s*[[(]\s*(?=['"]?[+\-−]?[.,]?\d)([^[\]()]*,[^[\]()]*)[\])]\s*,?\s*$/

/** `0.1 12.3;`: a row of a matrix, its numbers parted by blanks. */
const ROW_OF_MATRIX = /^([^;,\t]*\d[ ]+[+\-−]?[.]?\d[^;,\t]*);\s*$/

/** A line without the quotes, brackets and end mark that a script puts around what it prints. */
function asWritten(line: string): string {
  const ended = line.endsWith(';') ? line.replace(ROW_OF_MATRIX, '$1') : line
  const bare = ended.includes("'") ? ended.replace(BYTES, '$1$2') : ended
  return bare.includes(')') || bare.includes(']') ? bare.replace(IN_BRACKETS, '$1') : bare
}

function withoutEmptyEnd(cells: string[]): string[] {
  while (cells.length > 1 && cells.at(-1) === '') cells.pop()
  return cells
}

/** Delimiter and decimal mark that explain most of the lines, or `null` where no line holds a number. */
export function bestSplit(lines: readonly string[], decimal?: Decimal): Split | null {
  // No split explains a line without a digit: once the rest is explained, no other can do better.
  const most = lines.filter(line => /\p{N}/u.test(line)).length / Math.max(1, lines.length)
  const quoted = lines.some(line => line.includes('"'))
  let best: Split | null = null
  let wholeTried = false
  search: for (const delimiter of DELIMITERS) {
    // Delimiters that part no line all leave it whole: one of them stands for the rest.
    if (!quoted && !lines.some(line => parts(line, delimiter))) {
      if (wholeTried) continue
      wholeTried = true
    }
    for (const mark of decimal === undefined ? (['point', 'comma'] as const) : [decimal]) {
      const split = scoreSplit(lines, delimiter, mark)
      if (split.score > (best?.score ?? 0) + 1e-9) best = split
      if (best !== null && best.score >= most - 1e-9) break search
    }
  }
  if (!best || decimal !== undefined) return best
  return hasTwoMarks(lines, best) ? { ...best, decimal: 'either' } : withClearDecimal(best, lines)
}

/** Blanks and tabs part alike where the delimiter is a blank. */
const parts = (line: string, delimiter: Delimiter): boolean =>
  delimiter !== '' && (line.includes(delimiter) || (delimiter === ' ' && line.includes('\t')))

function scoreSplit(lines: readonly string[], delimiter: Delimiter, decimal: Decimal): Split {
  const worthByWidth = new Map<number, number>()
  const seconds: string[] = []
  const nameWidths = new Set<number>()
  const fullWidths = new Map<number, number>()
  const rowsByWidth = new Map<number, number>()
  for (const line of lines) {
    const full = splitCells(plainWidth(asWritten(line)), delimiter)
    const fullWidth = full.length
    const cells = withoutEmptyEnd(full)
    const forms = cells.map(cell => cellForm(cell, decimal))
    if (!forms.some(isValue)) {
      if (cells.every(cell => /\p{L}/u.test(cell))) nameWidths.add(cells.length)
      continue
    }
    let worth = 1
    fullWidths.set(fullWidth, (fullWidths.get(fullWidth) ?? 0) + 1)
    // Text beside numbers is possible, but a split that needs none explains more; so it is with thousands
    // marks.
    if (forms.includes('text')) worth = 0.6
    else if (forms.includes('grouped')) worth = 0.85
    // A lone value with a unit says as much as two cells; blanks that part the two gain nothing.
    if (delimiter === ' ' && forms.length === 2 && forms[1] === 'unit') worth -= 0.01
    if (cells.length === 2) seconds.push(cells[1] ?? '')
    // `1200,8412` is more likely two columns than one number.
    if (cells.length === 1 && decimal === 'comma' && line.includes(',')) worth -= 0.05
    rowsByWidth.set(cells.length, (rowsByWidth.get(cells.length) ?? 0) + 1)
    worthByWidth.set(cells.length, (worthByWidth.get(cells.length) ?? 0) + worth)
  }
  let width = 0
  let worth = 0
  let all = 0
  for (const [cells, sum] of worthByWidth) {
    all += sum
    if (sum > worth || (sum === worth && cells > width)) {
      width = cells
      worth = sum
    }
  }
  // Last columns that few rows fill count where a header names them and every row has room for them.
  const rows = [...fullWidths.values()].reduce((sum, count) => sum + count, 0)
  const [named] = [...fullWidths].filter(
    ([cells, count]) => cells > width && nameWidths.has(cells) && delimiter !== ' ' && count > 0.9 * rows,
  )
  const filled = named
    ? [...rowsByWidth].filter(([cells, count]) => cells <= named[0] && count >= FILLED_ROWS)
    : []
  const widest = Math.max(0, ...filled.map(([cells]) => cells))
  if (widest > width) {
    width = widest
    worth = all
  }
  // Rows of another width than most count for little: a wrong split makes widths vary.
  const torn = delimiter === ',' && width === 2 && !nameWidths.has(2) && areFractions(seconds) ? 0.9 : 1
  const score = (torn * (worth + 0.2 * (all - worth))) / Math.max(1, lines.length)
  return { delimiter, decimal, width, score, decimalUnclear: false }
}

/** So many rows that fill a last column show that it is one. */
const FILLED_ROWS = 3

/**
 * Second cells that look like what follows a decimal comma: whole, of one short length, or some with a
 * leading zero.
 */
function areFractions(cells: readonly string[]): boolean {
  if (!cells.every(cell => /^\d+$/.test(cell))) return false
  const zeroLed = cells.filter(cell => /^0\d/.test(cell)).length
  const lengths = new Set(cells.map(cell => cell.length))
  const short = lengths.size === 1 && (cells[0]?.length ?? 0) <= 3 && new Set(cells).size > 3
  return short || zeroLed > 0.03 * cells.length
}

/** So many cells of a column that only one mark explains show that it is the column's. */
const CLEAR_CELLS = 3

/**
 * Whether some column writes decimals with a point, beyond doubt, and another with a comma: the mark of the
 * one cannot read `0.050`, that of the other cannot read `0,003`.
 */
function hasTwoMarks(lines: readonly string[], { delimiter, width }: Split): boolean {
  const commas = delimiter === ',' ? /"[^"]*\d,\d/ : /\d,\d/
  if (!lines.some(line => commas.test(line)) || !lines.some(line => /\d\.\d/.test(line))) return false
  const columns = Array.from({ length: width }, () => ({ point: 0, comma: 0 }))
  for (const line of lines) {
    const cells = cellsOf(line, delimiter)
    if (cells.length !== width) continue
    for (const [c, cell] of cells.entries()) {
      const [point, comma] = (['point', 'comma'] as const).map(mark => isValue(cellForm(cell, mark)))
      if (point !== comma) columns[c]![point ? 'point' : 'comma']++
    }
  }
  const isClear = (mark: Decimal, other: Decimal): boolean =>
    columns.some(column => column[mark] >= CLEAR_CELLS && column[other] === 0)
  return isClear('point', 'comma') && isClear('comma', 'point')
}

/**
 * `1,234` may be a decimal or a thousand. Where all commas stand before three digits: beside numbers without
 * a comma in the same column they are thousands marks, else decimals; and either is told.
 */
function withClearDecimal(split: Split, lines: readonly string[]): Split {
  if (split.decimal === 'point') return split
  let decimals = 0
  let groups = 0
  const bare = new Set<number>()
  const marked = new Set<number>()
  for (const line of lines) {
    for (const [column, cell] of cellsOf(line, split.delimiter).entries()) {
      if (numberForm(cell, 'comma') === null) continue
      if (!cell.includes(',')) bare.add(column)
      else {
        marked.add(column)
        if (numberForm(cell, 'point') === 'grouped') groups++
        else decimals++
      }
    }
  }
  if (decimals > 0 || groups === 0) return split
  const thousands = [...marked].some(column => bare.has(column)) && split.delimiter !== ';'
  return { ...split, decimal: thousands ? 'point' : 'comma', decimalUnclear: true }
}
