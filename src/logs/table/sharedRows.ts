import { type Extent, extentIn, joinedExtent, NO_EXTENT } from '../../core/signal/extent.ts'
import type { PlainRows } from './fastRows.ts'
import { takeNumbers } from './plainNumbers.ts'
import { SampleTable } from './sampleTable.ts'

/**
 * Rows of plain numbers that several threads read together. Plain data over shared memory.
 *
 * The bytes are cut into parts of equal length. Each thread takes the next part that nobody has, reads its
 * rows into memory of its own, and puts them into the columns when the part before has told how many rows
 * there are up to it. So all are done at about the same time, however fast each of them is and whenever it
 * began, and the rows stand as if one had read them all.
 */
export interface SharedRows {
  readonly plain: PlainRows
  /** Where the numbers go, from the first row on. */
  readonly columns: readonly Float64Array[]
  /** Bytes of the file; `from` begins a row. */
  readonly from: number
  readonly to: number
  readonly partBytes: number
  /**
   * What the threads tell each other: the places below, then the rows before each part and after the last.
   */
  readonly board: Int32Array
  /**
   * The extent of each column in each part, looked at while its numbers are in the cache: the fields below in
   * turn.
   */
  readonly extents: Float64Array
}

/** What was read: all rows, or those before the first that is none of plain numbers. */
export interface SharedEnd {
  readonly rows: number
  /** Byte of the file after them. */
  readonly at: number
  /** Extent of each column in them. */
  readonly extents: readonly Extent[]
}

const NEXT_PART = 0
const END_PART = 1
const END_OFFSET = 2
const END_ROWS = 3
const ROWS_BEFORE = 4
/** Of the rows before a part: not known yet, and that the rows end before it. */
const UNKNOWN = -1
const NONE = -2

/** Small enough that a part and its numbers stay in the cache of a core. */
const PART_BYTES = 512 * 1024
/** A longer line is none of samples. */
const LONGEST_ROW = 4096
/**
 * So many parts a thread reads before those before them are told, and no more: where one thread is slower
 * than the other, as on a processor that others use too, the quicker one does not wait for it at every part.
 */
const MOST_AHEAD = 4
const LF = 10

/** `columns` must lie in shared memory, and byte `from` begin a row. */
export function shareRows(
  plain: PlainRows,
  columns: readonly Float64Array[],
  from: number,
  to: number,
  partBytes = PART_BYTES,
): SharedRows {
  const parts = Math.ceil((to - from) / partBytes)
  const board = new Int32Array(new SharedArrayBuffer(4 * (ROWS_BEFORE + parts + 1))).fill(UNKNOWN)
  board.fill(0, 0, ROWS_BEFORE + 1)
  const fields = parts * columns.length * EXTENT_FIELDS.length
  const extents = new Float64Array(new SharedArrayBuffer(8 * fields))
  return { plain, columns, from, to, partBytes, board, extents }
}

/** What was read, once every thread is done. */
export function sharedEnd({ columns, from, partBytes, board, extents }: SharedRows): SharedEnd {
  const rows = board[END_ROWS]!
  const last = board[END_PART]!
  return {
    rows,
    at: from + last * partBytes + board[END_OFFSET]!,
    extents: columns.map((_, c) => {
      let all = NO_EXTENT
      for (let part = 0; part <= last && rows > 0; part++)
        all = joinedExtent(all, getExtent(extents, part * columns.length + c))
      return all
    }),
  }
}

const EXTENT_FIELDS = [
  'count',
  'first',
  'last',
  'low',
  'high',
  'steadyLow',
  'steadyHigh',
  'leastStep',
  'greatestStep',
] as const satisfies readonly (keyof Extent)[]

const putExtent = (into: Float64Array, place: number, extent: Extent): void =>
  EXTENT_FIELDS.forEach((field, i) => {
    into[place * EXTENT_FIELDS.length + i] = extent[field]
  })

const getExtent = (from: Float64Array, place: number): Extent =>
  Object.fromEntries(
    EXTENT_FIELDS.map((field, i) => [field, from[place * EXTENT_FIELDS.length + i]!]),
  ) as Record<(typeof EXTENT_FIELDS)[number], number>

/**
 * Reads parts until there are no more. `bytesAt` gives the bytes of the file from a place on, as many as
 * asked for, or as there are; `onPart` is told the byte up to which parts are taken.
 */
export function readSharedRows(
  { plain, columns, from, to, partBytes, board, extents }: SharedRows,
  bytesAt: (from: number, length: number) => Uint8Array,
  onPart: (at: number) => void = () => {},
): void {
  const parts = board.length - ROWS_BEFORE - 1
  // No row is shorter than a digit and a mark for each column.
  const room = (): Float64Array[] =>
    columns.map(() => new Float64Array(Math.ceil((partBytes + LONGEST_ROW) / (2 * columns.length))))
  const spare: Float64Array[][] = []
  const waiting: ReadPart[] = []
  let more = true
  while (more || waiting.length > 0) {
    const part: number = more ? Atomics.add(board, NEXT_PART, 1) : parts
    more = part < parts
    if (more) {
      const own = spare.pop() ?? room()
      const read = readPart(part, own)
      // While the numbers are in the cache.
      for (const [c, values] of own.entries())
        putExtent(extents, part * columns.length + c, extentIn(values, 0, read?.rows ?? 0))
      waiting.push({ part, read, own })
    }
    // Where the rows before are not told yet, another part is read first, if there is one and room for it.
    let mayWait = !more || waiting.length === MOST_AHEAD
    while (waiting.length > 0 && (mayWait || isTold(waiting[0]!))) {
      const first = waiting.shift()!
      if (!settle(first)) {
        // Whatever was read of later parts, no rows follow.
        for (const { part: later } of waiting) tell(later + 1, NONE)
        return
      }
      spare.push(first.own)
      mayWait = !more
    }
  }

  function isTold({ part }: ReadPart): boolean {
    return Atomics.load(board, ROWS_BEFORE + part) !== UNKNOWN
  }

  function tell(part: number, rowsBefore: number): void {
    Atomics.store(board, ROWS_BEFORE + part, rowsBefore)
    Atomics.notify(board, ROWS_BEFORE + part)
  }

  /** Puts the rows of a part into the columns when those before it are told; false where no rows follow. */
  function settle({ part, read, own }: ReadPart): boolean {
    Atomics.wait(board, ROWS_BEFORE + part, UNKNOWN)
    const before = Atomics.load(board, ROWS_BEFORE + part)
    const after = read && before !== NONE ? before + read.rows : NONE
    const taken = read && after !== NONE && after <= (columns[0]?.length ?? 0) ? read : null
    if (taken) {
      // In the order of the parts, since each waits for the one before: the last to write this is the last
      // that has rows.
      board[END_PART] = part
      board[END_OFFSET] = taken.end
      board[END_ROWS] = after
    }
    // The next may go on before the numbers of this part are in place.
    tell(part + 1, taken && !taken.last ? after : NONE)
    if (!taken) return false
    for (const [c, values] of own.entries()) columns[c]!.set(values.subarray(0, taken.rows), before)
    if (taken.last) return false
    onPart(Math.min(to, from + (part + 1) * partBytes))
    return true
  }

  /** The rows that begin in a part; `null` where none can be read. */
  function readPart(part: number, own: readonly Float64Array[]): PartRead | null {
    // With the byte before, which tells whether a row begins at the very first.
    const lead = part === 0 ? 0 : 1
    const place = from + part * partBytes - lead
    const bytes = bytesOrNone(place, Math.min(to - place, lead + partBytes + LONGEST_ROW))
    const start = part === 0 ? 0 : bytes.indexOf(LF) + 1
    const next = bytes.indexOf(LF, lead + partBytes - 1) + 1
    const end = next > 0 ? next : bytes.lastIndexOf(LF) + 1
    if (end === 0) return null
    const table = SampleTable.over(own)
    const taken = start < end ? takeNumbers(bytes, start, end, 1, plain, table) : start
    return { rows: table.rows, end: taken - lead, last: next === 0 || taken < end }
  }

  /**
   * A thread that fails must not leave the others waiting: whoever reads on alone meets the same and tells
   * it.
   */
  function bytesOrNone(place: number, length: number): Uint8Array {
    try {
      return bytesAt(place, length)
    } catch {
      return new Uint8Array(0)
    }
  }
}

/** A part that was read, and its numbers. */
interface ReadPart {
  readonly part: number
  readonly read: PartRead | null
  readonly own: Float64Array[]
}

interface PartRead {
  readonly rows: number
  /** Where they end, counted from the first byte of the part. */
  readonly end: number
  /** Whether no rows follow them: another kind of line does, or the end of the file. */
  readonly last: boolean
}
