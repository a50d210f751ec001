import { printable } from '../../core/printable.ts'
import type { Note } from '../../core/recording.ts'
import { type Extent, extentIn, joinedExtent } from '../../core/signal/extent.ts'
import type { ColumnForm } from '../lines/columnForm.ts'

/** The word for a unit that cells carry from a row on; `''` where they carry none. */
export interface UnitRun {
  readonly fromRow: number
  readonly line: number
  readonly word: string
}

export interface Column {
  /** Name in the header or key, or above the samples; `''` where the log gives none. */
  name: string
  /** Unit in a row of its own below the header, or above the samples. */
  unitRow: string
  readonly form: ColumnForm
  /** One a row, NaN where the cell is missing or unreadable. Longer than the rows taken so far. */
  values: Float64Array
  /** Rows without a value. */
  missing: number
  readonly unitRuns: UnitRun[]
  lastText: string
  /**
   * The first number with a mark that may be of thousands or of decimals (`12.345` beside decimal commas).
   */
  grouped: BadRow | null
}

/** Rows whose cells could not be read, told later: how many, and the first ones. */
export interface BadRow {
  readonly line: number
  readonly text: string
}

/** Lines that are quoted of each kind. */
export const QUOTED = 5
/** Unread lines that are kept, to be shown on request. */
export const KEPT_UNREAD = 50
const TEXTS_OF_ROWS = 200
const LONG_RUN = 10
const NOTES_MOST = 10_000
const NOTE_LENGTH = 500
const FIRST_ROWS = 4096

/** Shared memory is such as several threads may write to at once. */
export type Memory = 'own' | 'shared'

const numbers = (count: number, memory: Memory): Float64Array =>
  new Float64Array(memory === 'own' ? new ArrayBuffer(8 * count) : new SharedArrayBuffer(8 * count))

/**
 * The numbers of a log by column, before anything is understood of them. Grows; arrays are handed out at the
 * end.
 */
export class SampleTable {
  readonly columns: Column[] = []
  rows = 0
  readonly notes: Note[] = []
  notesLeftOut = 0
  /** Rows before which the device seems to have started anew: its header or banner came again. */
  readonly restarts: number[] = []
  /** Rows that are left out for a reason that their text shows: how many, and the first ones. */
  readonly badRows: BadRow[] = []
  badCount = 0
  /** Rows with a cell that could not be read, in order, and the text of the first ones. */
  readonly unreadableRows: number[] = []
  private readonly unreadableTexts = new Map<number, string>()
  /** Lines that hold numbers and made no row. */
  readonly unreadLines: BadRow[] = []
  unreadCount = 0
  private run = 0
  private runAtRow = -1
  private runsBefore = 0
  /** Lines written otherwise than most, and read so. */
  readonly otherwise: BadRow[] = []
  otherwiseCount = 0
  /** What stands in the first column, where that is one of text, of the first rows. */
  readonly firstTexts: string[] = []
  /** The first of the rows that only mark the end. */
  endMarkRow = -1
  /** The last line, where it was not whole. */
  cutLine: BadRow | null = null
  /** A header among the samples that gives the columns another meaning than the one in line `before`. */
  otherHeader: (BadRow & { readonly before: number }) | null = null
  capacity: number
  /** Rows at which the line number is not one past that of the row before: row, line, row, line … */
  private readonly lineJumps: number[] = []
  private nextLine = -1
  /** Of rows that were read apart, the extent of each column, as far as it is known. */
  private apart: { readonly fromRow: number; readonly extents: readonly Extent[] } | null = null

  constructor(
    expectedRows = FIRST_ROWS,
    /** Whether other threads may reach the numbers. */
    private readonly memory: Memory = 'own',
  ) {
    this.capacity = Math.max(FIRST_ROWS, Math.ceil(expectedRows))
  }

  /** A table of unnamed columns in memory at hand, all of one length. */
  static over(columns: readonly Float64Array[]): SampleTable {
    const table = new SampleTable(0)
    for (const values of columns) table.columns[table.addColumn('', 'number')]!.values = values
    table.capacity = columns[0]?.length ?? 0
    return table
  }

  addColumn(name: string, form: ColumnForm, unitRow = ''): number {
    // A column of text is kept as notes and needs no numbers.
    const values = numbers(form === 'text' || form === 'unit' ? 0 : this.capacity, this.memory)
    values.fill(Number.NaN, 0, Math.min(this.rows, values.length))
    this.columns.push({
      name,
      unitRow,
      form,
      values,
      missing: this.rows,
      unitRuns: [],
      lastText: '',
      grouped: null,
    })
    return this.columns.length - 1
  }

  /** Room for more rows. Untouched memory costs nothing, so the first capacity may be generous. */
  ensureRoom(more = 1): void {
    if (this.rows + more <= this.capacity) return
    this.capacity = Math.max(this.rows + more, Math.ceil(this.capacity * 1.5))
    for (const column of this.columns) {
      if (column.values.length === 0) continue
      const longer = numbers(this.capacity, this.memory)
      longer.set(column.values)
      column.values = longer
    }
  }

  /** Ends a row that stood on `line`. */
  endRow(line: number): void {
    for (const column of this.columns)
      if (!(column.values[this.rows]! - column.values[this.rows]! === 0)) column.missing++
    this.linesFrom(this.rows, line)
    this.nextLine = line + 1
    this.rows++
  }

  /** Ends `count` rows that stood on as many lines without a break. */
  endRows(count: number, firstLine: number): void {
    if (count === 0) return
    for (const column of this.columns) bareFrom(column, this.rows, firstLine)
    this.linesFrom(this.rows, firstLine)
    this.nextLine = firstLine + count
    this.rows += count
  }

  /**
   * Ends rows that were read apart into the room behind those before; `extents` of the first columns in them.
   */
  endRowsApart(count: number, firstLine: number, extents: readonly Extent[]): void {
    this.apart = { fromRow: this.rows, extents }
    this.endRows(count, firstLine)
  }

  /**
   * Extent of a column without missing values, most of whose rows were read apart, so that it costs next to
   * nothing; `null` of others. It holds until its values are changed.
   */
  toldExtent(column: Column): Extent | null {
    const apart = this.apart?.extents[this.columns.indexOf(column)]
    if (!this.apart || !apart || column.missing > 0) return null
    const { fromRow } = this.apart
    const before = extentIn(column.values, 0, fromRow)
    const after = extentIn(column.values, fromRow + apart.count, this.rows)
    return joinedExtent(joinedExtent(before, apart), after)
  }

  /**
   * The room behind the rows, column by column, for rows that are read apart and ended with `endRowsApart`.
   */
  roomBehind(): Float64Array[] {
    return this.columns.map(({ values }) => values.subarray(this.rows))
  }

  private linesFrom(row: number, line: number): void {
    if (line !== this.nextLine) this.lineJumps.push(row, line)
  }

  /** Line of the file on which a row stood. */
  lineOf(row: number): number {
    let low = 0
    let high = this.lineJumps.length / 2 - 1
    while (low < high) {
      const middle = (low + high + 1) >> 1
      if (this.lineJumps[2 * middle]! <= row) low = middle
      else high = middle - 1
    }
    return (this.lineJumps[2 * low + 1] ?? 1) + row - (this.lineJumps[2 * low] ?? 0)
  }

  note(line: number, text: string): void {
    const shown = printable(text, NOTE_LENGTH)
    if (shown === '') return
    if (this.notes.length < NOTES_MOST) this.notes.push({ line, sample: this.rows, text: shown })
    else this.notesLeftOut++
  }

  badRow(line: number, text: string): void {
    this.badCount++
    if (this.badRows.length < QUOTED) this.badRows.push({ line, text: printable(text) })
  }

  /** The row that is being made has a cell that could not be read. */
  unreadableRow(text: string): void {
    this.unreadableRows.push(this.rows)
    this.countInRun()
    // The row that is made of it ends no run.
    this.runAtRow = this.rows + 1
    if (this.unreadableTexts.size < TEXTS_OF_ROWS) this.unreadableTexts.set(this.rows, printable(text))
  }

  /** What stood in a row with an unreadable cell; `''` where it was not kept. */
  textOfRow(row: number): string {
    return this.unreadableTexts.get(row) ?? ''
  }

  /** Lines that were not read in runs of ten and more, without a whole row between. */
  get unreadInRuns(): number {
    return this.runsBefore + (this.run >= LONG_RUN ? this.run : 0)
  }

  private countInRun(): void {
    if (this.rows !== this.runAtRow) {
      if (this.run >= LONG_RUN) this.runsBefore += this.run
      this.run = 0
    }
    this.runAtRow = this.rows
    this.run++
  }

  /** A line that holds numbers and makes no row. */
  unread(line: number, text: string): void {
    this.unreadCount++
    this.countInRun()
    if (this.unreadLines.length < KEPT_UNREAD) this.unreadLines.push({ line, text: printable(text) })
  }

  /** A line told before turns out to be understood, though it is no row. */
  readAsText(line: number): void {
    const at = this.unreadLines.findIndex(unread => unread.line === line)
    if (at < 0) return
    this.unreadLines.splice(at, 1)
    this.unreadCount--
  }

  readOtherwise(line: number, text: string): void {
    this.otherwiseCount++
    if (this.otherwise.length < QUOTED) this.otherwise.push({ line, text: printable(text) })
  }

  restart(): void {
    if (this.restarts.at(-1) !== this.rows) this.restarts.push(this.rows)
  }
}

/** The unit of a column from this row on, as its cell or the cell beside it has it. */
export function unitFrom(column: Column, word: string, row: number, line: number): void {
  const runs = column.unitRuns
  // A cell of its own may bring the unit of a number that came without.
  if (runs.at(-1)?.fromRow === row && runs.at(-1)?.word === '') runs.pop()
  if (runs.at(-1)?.word !== word) runs.push({ fromRow: row, line, word })
}

/** From this row on the cells of a column carry no unit. Nothing is kept for a column that never had one. */
export function bareFrom(column: Column, row: number, line: number): void {
  if (column.unitRuns.length > 0 && column.unitRuns.at(-1)?.word !== '') {
    column.unitRuns.push({ fromRow: row, line, word: '' })
  }
}
