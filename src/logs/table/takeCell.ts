import { printable } from '../../core/printable.ts'
import { parseQuantity } from '../cells/cell.ts'
import { type DecimalMarks, isMissing, parseNumber } from '../cells/number.ts'
import { parseClock, parseDate, parseDateTime } from '../cells/stamp.ts'
import { bareFrom, type Column, type SampleTable, unitFrom } from './sampleTable.ts'

export interface CellRules {
  readonly decimal: DecimalMarks
  readonly monthFirst: boolean
}

/** One group of thousands and no decimals: with the other mark it would be a plain number. */
const MAYBE_DECIMAL = { comma: /^\D?\d{1,3}\.\d{3}$/, point: /^\D?\d{1,3},\d{3}$/, either: null } as const

export type Taken = 'value' | 'missing' | 'unreadable'

/** Puts a cell into its column, at the row that is being made. Notes its text or unit where it has one. */
export function takeCell(
  table: SampleTable,
  column: Column,
  text: string,
  line: number,
  rules: CellRules,
): Taken {
  const row = table.rows
  if (column.form === 'text') {
    takeText(table, column, text, line)
    return 'missing'
  }
  if (column.form === 'unit') return 'missing'
  column.values[row] = Number.NaN
  if (isMissing(text)) return 'missing'
  const value =
    column.form === 'number' ? takeNumber(column, text, line, row, rules) : parseStamp(column, text, rules)
  if (value === null) return 'unreadable'
  column.values[row] = value
  return 'value'
}

function takeNumber(
  column: Column,
  text: string,
  line: number,
  row: number,
  rules: CellRules,
): number | null {
  const plain = parseNumber(text, rules.decimal)
  if (plain !== null) {
    if (column.grouped === null && MAYBE_DECIMAL[rules.decimal]?.test(text))
      column.grouped = { line, text: printable(text) }
    bareFrom(column, row, line)
    return plain
  }
  const quantity = parseQuantity(text, rules.decimal)
  if (quantity === null) return null
  unitFrom(column, quantity.unit, row, line)
  return quantity.value
}

function parseStamp(column: Column, text: string, { monthFirst }: CellRules): number | null {
  if (column.form === 'clock') return parseClock(text)
  if (column.form === 'date') return parseDate(text, monthFirst)
  return parseDateTime(text, monthFirst) ?? parseClock(text)
}

/** A text that stays the same from row to row is noted once. */
function takeText(table: SampleTable, column: Column, text: string, line: number): void {
  if (text === column.lastText) return
  column.lastText = text
  if (!isMissing(text)) table.note(line, column.name === '' ? text : `${printable(column.name)}: ${text}`)
}
