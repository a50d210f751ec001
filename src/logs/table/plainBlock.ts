import { type PlainRows, takePlainRows } from './fastRows.ts'
import { takePairRows } from './pairRows.ts'
import { SampleTable } from './sampleTable.ts'

/** What it takes to read rows of plain numbers apart from the lines before them, in another thread say. Plain data. */
export interface PlainRoom {
  readonly plain: PlainRows
  /** Where the numbers go; other memory is taken where they are more. */
  readonly columns: readonly Float64Array[]
}

/** Rows that were read apart. Plain data. */
export interface PlainBlock {
  /** One number a row, longer than the rows; `null` where they are in the room that was given. */
  readonly columns: readonly Float64Array[] | null
  readonly rows: number
  /** Length of the rows, and the last bytes of them. */
  readonly bytes: number
  readonly tail: Uint8Array
}

const LF = 10
/** Bytes of complete lines kept to judge the last line of a log by. */
const TAIL_BYTES = 4096

/** Takes rows of plain numbers from `bytes[at…end)`, which ends with a line end, by the quickest loop that reads them. */
export function takeNumbers(
  bytes: Uint8Array,
  at: number,
  end: number,
  firstLine: number,
  plain: PlainRows,
  table: SampleTable,
): number {
  const before = table.rows
  const stop = plain.columns.length === 2 ? takePairRows(bytes, at, end, firstLine, plain, table) : at
  if (stop >= end) return stop
  return takePlainRows(bytes, stop, end, firstLine + table.rows - before, plain, table)
}

/**
 * Reads rows of plain numbers for as long as there are such rows. `bytesAt` gives some of the bytes from a place on,
 * counted from the first row, and none at the end; more than a line where there is one.
 */
export function readPlainBlock(
  { plain, columns }: PlainRoom,
  bytesAt: (place: number) => Uint8Array,
): PlainBlock {
  const table = SampleTable.over(columns)
  let tail: Uint8Array = new Uint8Array(0)
  let place = 0
  let end = 0
  let taken = 0
  do {
    const bytes = bytesAt(place)
    end = bytes.lastIndexOf(LF) + 1
    taken = takeAll(bytes, end, plain, table)
    tail = lastBytes(tail, bytes.subarray(0, taken))
    place += taken
  } while (taken > 0 && taken === end)
  const found = table.columns.map(({ values }) => values)
  const inRoom = found.every((values, c) => values === columns[c])
  return { columns: inRoom ? null : found, rows: table.rows, bytes: place, tail }
}

function takeAll(bytes: Uint8Array, end: number, plain: PlainRows, table: SampleTable): number {
  let at = 0
  let before = -1
  // The table may be full in the midst.
  while (at < end && at > before) {
    before = at
    table.ensureRoom()
    at = takeNumbers(bytes, at, end, table.rows + 1, plain, table)
  }
  return at
}

/** The last bytes of those taken before and those taken now, however few these are; a copy. */
export function lastBytes(before: Uint8Array, taken: Uint8Array): Uint8Array {
  if (taken.length >= TAIL_BYTES) return taken.slice(-TAIL_BYTES)
  const all = new Uint8Array(before.length + taken.length)
  all.set(before)
  all.set(taken, before.length)
  return all.slice(-TAIL_BYTES)
}
