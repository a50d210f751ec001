import type { Decimal } from '../cells/number.ts'
import type { Layout } from '../lines/layout.ts'
import type { SampleTable } from './sampleTable.ts'

const LF = 10
const CR = 13
const MINUS = 45
const SPACE = 32
/**
 * Powers of ten that a double holds exactly; a number of up to 15 digits over one of them rounds once, hence
 * rightly.
 */
const TEN_TO = Float64Array.from({ length: 23 }, (_, i) => 10 ** i)

/** How rows of plain numbers are written, where the whole log is of that form. */
export interface PlainRows {
  readonly delimiter: number
  readonly decimal: number
  readonly columns: readonly number[]
}

/** The form of the rows for the fast path, or `null` where some column is no plain number. */
export function plainRows(layout: Layout): PlainRows | null {
  if (layout.kind !== 'cells' || layout.wrapped || layout.decimal === 'either') return null
  const forms = layout.forms.filter(
    (form, c) => form !== 'text' || c < layout.forms.findLastIndex(f => f !== 'text'),
  )
  if (forms.some(form => form !== 'number')) return null
  const delimiter = layout.delimiter === '' ? -1 : layout.delimiter.charCodeAt(0)
  return { delimiter, decimal: decimalByte(layout.decimal), columns: forms.map((_, c) => c) }
}

const decimalByte = (decimal: Decimal): number => (decimal === 'comma' ? 44 : 46)

/**
 * Takes rows from `bytes[from…end)`, which ends with a line end, until it meets one that is not plain
 * numbers. Gives the place of that row, or `end`. Rows are ended in the table; `firstLine` is the line number
 * at `from`.
 */
export function takePlainRows(
  bytes: Uint8Array,
  from: number,
  end: number,
  firstLine: number,
  rows: PlainRows,
  table: SampleTable,
): number {
  const { delimiter, decimal } = rows
  const width = rows.columns.length
  const spaced = delimiter === SPACE
  const first = table.rows
  let row = first
  const columns = table.columns.slice(0, width).map(column => column.values)
  let at = from
  let rowStart = from
  plain: while (at < end) {
    if (row === table.capacity) {
      table.endRows(row - first, firstLine)
      table.ensureRoom()
      return at
    }
    rowStart = at
    for (let c = 0; c < width; c++) {
      let byte = bytes[at]!
      while (byte === SPACE || (spaced && byte === 9)) byte = bytes[++at]!
      const negative = byte === MINUS
      if (negative) byte = bytes[++at]!
      // Up to 9 digits fit 32 bits, where adding a digit costs least; what is longer is read again from its
      // bytes.
      let whole = 0
      const digitsFrom = at
      let digit = byte - 48
      while (digit >>> 0 < 10) {
        whole = (Math.imul(whole, 10) + digit) | 0
        digit = bytes[++at]! - 48
      }
      let digits = at - digitsFrom
      let value = whole
      if (digit + 48 === decimal) {
        const fractionFrom = ++at
        digit = bytes[at]! - 48
        while (digit >>> 0 < 10) {
          whole = (Math.imul(whole, 10) + digit) | 0
          digit = bytes[++at]! - 48
        }
        const fraction = at - fractionFrom
        digits += fraction
        value = (digits > 9 ? integerOf(bytes, digitsFrom, at) : whole) / TEN_TO[fraction]!
      } else if (digits > 9) value = integerOf(bytes, digitsFrom, at)
      if (digits > 15) value = longNumber(bytes, digitsFrom, at)
      if (negative) value = -value
      if (digits === 0) break plain
      byte = digit + 48
      if (byte === 101 || byte === 69) {
        at = exponentEnd(bytes, at)
        value = longNumber(bytes, digitsFrom, at) * (negative ? -1 : 1)
        byte = bytes[at]!
        if (!Number.isFinite(value)) break plain
      }
      while (byte === SPACE || (spaced && byte === 9)) byte = bytes[++at]!
      if (c < width - 1) {
        if (spaced) {
          // `1.0-2.0` has no blank between its numbers: something is torn.
          if (byte === LF || byte === CR || (bytes[at - 1] !== SPACE && bytes[at - 1] !== 9)) break plain
        } else {
          if (byte !== delimiter) break plain
          at++
        }
      } else if (byte === LF) at++
      else if (byte === CR) {
        at++
        if (bytes[at] === LF) at++
      } else break plain
      columns[c]![row] = value
    }
    row++
    rowStart = at
  }
  table.endRows(row - first, firstLine)
  return rowStart
}

/** The digits of a span as one integer, a decimal mark passed over; exact to 15 digits. */
function integerOf(bytes: Uint8Array, from: number, to: number): number {
  let value = 0
  for (let i = from; i < to; i++) {
    const digit = bytes[i]! - 48
    if (digit >= 0) value = value * 10 + digit
  }
  return value
}

function exponentEnd(bytes: Uint8Array, at: number): number {
  let end = at + 1
  if (bytes[end] === 43 || bytes[end] === MINUS) end++
  while (bytes[end]! >= 48 && bytes[end]! <= 57) end++
  return end
}

/** More than 15 digits, or an exponent: left to the engine's own exact conversion. */
function longNumber(bytes: Uint8Array, from: number, to: number): number {
  let text = ''
  for (let i = from; i < to; i++) text += bytes[i] === 44 ? '.' : String.fromCharCode(bytes[i]!)
  return Number(text)
}
