import type { PlainRows } from './fastRows.ts'
import type { SampleTable } from './sampleTable.ts'

const LF = 10
const CR = 13
/** Of a byte less `0`. */
const MINUS = 45 - 48
/** More digits do not fit 32 bits. */
const MOST_DIGITS = 9
const TEN_TO = Float64Array.from({ length: MOST_DIGITS + 1 }, (_, i) => 10 ** i)

/** Rows that one call goes through: see src/core/signal/scan.ts for why a long way is gone in short ones. */
const AT_ONCE = 1024

/** Where the next row begins, and the place of its numbers in the columns. */
interface Place {
  at: number
  row: number
}

/**
 * Takes rows of two short numbers and nothing else, the commonest log, as `takePlainRows` takes them, in half
 * the time: without its allowances for blanks, exponents and long numbers. Gives the place of the first row
 * that needs these, or `end`.
 */
export function takePairRows(
  bytes: Uint8Array,
  from: number,
  end: number,
  firstLine: number,
  { delimiter, decimal }: PlainRows,
  table: SampleTable,
): number {
  const { capacity, columns, rows: first } = table
  const left = columns[0]!.values
  const right = columns[1]!.values
  const place: Place = { at: from, row: first }
  let to = first
  while (place.row === to && place.at < end && to < capacity) {
    to = Math.min(capacity, to + AT_ONCE)
    takeSome(bytes, end, delimiter, decimal - 48, left, right, to, place)
  }
  table.endRows(place.row - first, firstLine)
  return place.at
}

/** Takes rows up to row `to` of the columns, as far as they go, and moves the place on. */
function takeSome(
  bytes: Uint8Array,
  end: number,
  delimiter: number,
  mark: number,
  left: Float64Array,
  right: Float64Array,
  to: number,
  place: Place,
): void {
  let { at: rowStart, row } = place
  while (rowStart < end && row < to) {
    let at = takeShort(bytes, rowStart, mark, left, row)
    if (at < 0 || bytes[at] !== delimiter) break
    at = takeShort(bytes, at + 1, mark, right, row)
    if (at < 0) break
    if (bytes[at] === CR) at++
    if (bytes[at] !== LF) break
    rowStart = at + 1
    row++
  }
  place.at = rowStart
  place.row = row
}

/**
 * Puts a number of up to nine digits into `values[row]` and gives the place after it; −1 where there is none.
 */
function takeShort(bytes: Uint8Array, from: number, mark: number, values: Float64Array, row: number): number {
  let at = from
  let digit = bytes[at]! - 48
  let sign = 1
  if (digit === MINUS) {
    sign = -1
    digit = bytes[++at]! - 48
  }
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
  // A product, not a branch: what is compiled before the first negative number need not be compiled anew
  // after it.
  values[row] = sign * value
  return at
}
