import type { PlainRows } from './fastRows.ts'
import type { SampleTable } from './sampleTable.ts'

const LF = 10
const CR = 13
/** Of a byte less `0`. */
const MINUS = 45 - 48
/** More digits do not fit 32 bits. */
const MOST_DIGITS = 9
const TEN_TO = Float64Array.from({ length: MOST_DIGITS + 1 }, (_, i) => 10 ** i)

/**
 * Takes rows of two short numbers and nothing else, the commonest log, as `takePlainRows` takes them, in half the
 * time: without its allowances for blanks, exponents and long numbers. Gives the place of the first row that needs
 * these, or `end`.
 */
export function takePairRows(
  bytes: Uint8Array,
  from: number,
  end: number,
  firstLine: number,
  { delimiter, decimal }: PlainRows,
  table: SampleTable,
): number {
  const mark = decimal - 48
  const first = table.rows
  const { capacity, columns } = table
  const left = columns[0]!.values
  const right = columns[1]!.values
  let row = first
  let rowStart = from
  while (rowStart < end && row < capacity) {
    let at = takeShort(bytes, rowStart, mark, left, row)
    if (at < 0 || bytes[at] !== delimiter) break
    at = takeShort(bytes, at + 1, mark, right, row)
    if (at < 0) break
    if (bytes[at] === CR) at++
    if (bytes[at] !== LF) break
    rowStart = at + 1
    row++
  }
  table.endRows(row - first, firstLine)
  return rowStart
}

/** Puts a number of up to nine digits into `values[row]` and gives the place after it; −1 where there is none. */
function takeShort(bytes: Uint8Array, from: number, mark: number, values: Float64Array, row: number): number {
  let at = from
  let digit = bytes[at]! - 48
  const negative = digit === MINUS
  if (negative) digit = bytes[++at]! - 48
  const digitsFrom = at
  let whole = 0
  while (digit >>> 0 < 10) {
    whole = (Math.imul(whole, 10) + digit) | 0
    digit = bytes[++at]! - 48
  }
  let digits = at - digitsFrom
  let value = whole
  if (digit === mark) {
    const fractionFrom = ++at
    digit = bytes[at]! - 48
    while (digit >>> 0 < 10) {
      whole = (Math.imul(whole, 10) + digit) | 0
      digit = bytes[++at]! - 48
    }
    const fraction = at - fractionFrom
    digits += fraction
    value = whole / TEN_TO[fraction]!
  }
  if (digits === 0 || digits > MOST_DIGITS) return -1
  values[row] = negative ? -value : value
  return at
}
