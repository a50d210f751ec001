import { printable } from '../../core/printable.ts'
import { cellForm, isValue } from '../cells/cell.ts'
import { cellsOf } from '../lines/delimiter.ts'
import { type Layout, unwrapped } from '../lines/layout.ts'
import { cellsWrittenOtherwise } from '../lines/otherwise.ts'
import { commentText, type Delimiter, withoutResidue } from '../lines/split.ts'
import { BANNER } from '../words/banner.ts'
import { headerMeaning } from '../words/header.ts'
import { namesRecord, sameColumns } from '../words/recordHeader.ts'
import { type Role, roleOf } from '../words/roles.ts'
import { isNumberedTitle } from '../words/specimen.ts'
import { multipleForceUnitOf } from '../words/units.ts'
import { type Column, type SampleTable, unitFrom } from './sampleTable.ts'
import { type CellRules, takeCell } from './takeCell.ts'
import { unitOwner } from './unitOwner.ts'

/** What a line turned out to be. */
export type LineKind = 'row' | 'text' | 'blank'

const DELIMITERS: readonly Delimiter[] = ['\t', ';', '|', ',', ' ']

/** No name begins with a number: rows with a unit in them are told from headers at once. */
const STARTS_AS_ROW = /^[\s"'([]*[+\-−]?[.,]?\d/

/** Enough to tell a list of settings. */
const FIRST_TEXTS = 300

/** A number that is no part of a word, a version, a date or a clock time. */
const LONE_NUMBER =
  /(?:^|[\s,;|=:([{"'])[+\-−]?(?:\d+(?:[.,]\d+)?|[.,]\d+)(?:[eE][+-]?\d+)?(?![\p{L}\d]*[.:/-]\d)/u

/**
 * A line that is no row: kept as a note, and taken as a restart where it says so; one with numbers in it is
 * told.
 */
export function takeTextLine(table: SampleTable, text: string, line: number, isComment = false): void {
  const banner = BANNER.test(text)
  if (table.rows > 0 && banner) table.restart()
  if (!isComment && !banner && !isNumberedTitle(text) && LONE_NUMBER.test(text)) table.unread(line, text)
  table.note(line, text)
}

/**
 * A line of two numbers at least, no words, and not a date or a clock alone: no setting, but a row of some
 * kind.
 */
export const isFigures = (text: string): boolean =>
  /^[\d+\-−.,:;|\s"'eE]+$/.test(text) &&
  (text.match(/\d+(?:\.\d+)?/g)?.length ?? 0) > 1 &&
  !/^(?:clock|date)/.test(cellForm(text.trim(), 'point'))

/**
 * A comment line; `comment` is its text without the mark. One among the rows that is written as a row would
 * be (`isRow`), or in figures alone, says nothing in words: a sample may be lost in it, so it is told like
 * any unread line.
 */
export function takeComment(
  table: SampleTable,
  text: string,
  comment: string,
  line: number,
  isRow: boolean,
): void {
  takeTextLine(table, comment, line, true)
  if (table.rows > 0 && (isRow || isFigures(comment))) table.unread(line, text)
}

/** Takes lines of delimited cells, of any oddness. One for a log. */
export class CellRows {
  private readonly headerKey: string | null
  private readonly columnRoles: readonly (Role | null)[]
  /**
   * Forces of which no name says a unit, where one column of units stands for all: `Net, Gross, Tare, Unit`.
   */
  private readonly ofOneUnit: readonly Column[]
  /** Columns of numbers and stamps. */
  private readonly width: number

  constructor(
    private readonly layout: Layout & { readonly kind: 'cells' },
    private readonly table: SampleTable,
  ) {
    for (const [c, form] of layout.forms.entries()) {
      table.addColumn(layout.header?.names[c] ?? '', form, layout.header?.units[c] ?? '')
    }
    this.headerKey = layout.header ? keyOf(layout.header.names) : null
    this.width = layout.forms.filter(form => form !== 'text' && form !== 'unit').length
    const meanings = table.columns.map(({ name, unitRow }) => headerMeaning(name, unitRow))
    this.columnRoles = meanings.map(({ role }) => role)
    const units = this.columnRoles.filter(role => role === 'unit')
    this.ofOneUnit = table.columns.filter(
      ({ form }, c) =>
        units.length === 1 && form === 'number' && meanings[c]?.role === 'force' && !meanings[c].unit,
    )
  }

  take(given: string, line: number): LineKind {
    const { layout, table } = this
    const bare = withoutResidue(given)
    const text = layout.wrapped ? unwrapped(bare) : bare
    if (text.trim() === '') return 'blank'
    const comment = commentText(text, layout.delimiter)
    if (this.isHeader(comment ?? text, line)) {
      if (table.rows > 0) table.restart()
      return 'text'
    }
    if (comment !== null) {
      const isRow = cellsWrittenOtherwise(comment, layout, this.columnRoles) !== null
      takeComment(table, text, comment, line, isRow)
      return 'text'
    }
    const cells = cellsOf(text, layout.delimiter)
    return this.takeCells(cells, text, line, layout)
  }

  /**
   * The header again, as it was or in other words. One that gives the columns another meaning is told as a
   * problem.
   */
  private isHeader(text: string, line: number): boolean {
    const { header, delimiter, decimal } = this.layout
    if (header === null || !/\p{L}/u.test(text)) return false
    if (keyOf(cellsOf(text, delimiter)) === this.headerKey) return true
    if (STARTS_AS_ROW.test(text)) return false
    // It may be parted otherwise than the rows before it.
    for (const mark of new Set([delimiter, ...DELIMITERS])) {
      const names = cellsOf(text, mark)
      // Nor is `t=1 f=2` a header, though its words would do for one.
      if (names.some(name => /^\d|^$|[=:]\s*[+\-−]?[.,]?\d/.test(name) || isValue(cellForm(name, decimal))))
        continue
      const other = { names, units: [] }
      // Words between blanks may say anything.
      if ((mark === ' ' && mark !== delimiter) || !namesRecord(other, mark)) continue
      if (sameColumns(header, other)) return true
      this.table.otherHeader ??= { line, text: printable(text), before: header.line }
      return false
    }
    return false
  }

  /**
   * Gives the unit in a cell of its own to the number that it belongs to, or to all that the one unit stands
   * for.
   */
  private takeUnit(c: number, word: string, line: number): void {
    const { table } = this
    if (this.ofOneUnit.length > 1 && multipleForceUnitOf(word) !== null) {
      for (const column of this.ofOneUnit) unitFrom(column, word, table.rows, line)
      return
    }
    const column = unitOwner(table.columns, c, word)
    // Only a column that its header calls the unit may belong to a number elsewhere than before it.
    const named = headerMeaning(table.columns[c]?.name ?? '').role === 'unit'
    if (column && (named || column === table.columns[c - 1])) unitFrom(column, word, table.rows, line)
  }

  private takeCells(
    cells: readonly string[],
    text: string,
    line: number,
    rules: CellRules,
    isOtherwise = false,
  ): LineKind {
    const { table } = this
    table.ensureRoom()
    let values = 0
    let unreadable = false
    for (const [c, column] of table.columns.entries()) {
      const cell = cells[c] ?? ''
      if (column.form === 'text') continue
      if (column.form === 'unit') continue
      const taken = takeCell(table, column, cell, line, rules)
      if (taken === 'value') values++
      else if (taken === 'unreadable') unreadable = true
    }
    const extra = cells.slice(table.columns.length)
    // Numbers beyond the last column: two rows run together, or a delimiter lost or won. None of it can be
    // trusted.
    const torn = extra.some(cell => cellForm(cell, rules.decimal) === 'number')
    if (!isOtherwise && (values === 0 || unreadable || torn || cells.length < Math.min(2, this.width))) {
      const own = cellsWrittenOtherwise(text, this.layout, this.columnRoles)
      if (own !== null) {
        table.readOtherwise(line, text)
        return this.takeCells(own.cells, text, line, { ...rules, decimal: own.decimal }, true)
      }
    }
    if (values === 0 || (unreadable && isTotals(cells))) {
      takeTextLine(table, text, line)
      return 'text'
    }
    if (torn)
      for (const column of table.columns) if (column.values.length > 0) column.values[table.rows] = Number.NaN
    if (torn || unreadable) table.unreadableRow(text)
    for (const [c, column] of table.columns.entries()) {
      const cell = cells[c] ?? ''
      if (column.form === 'text') takeCell(table, column, cell, line, rules)
      else if (column.form === 'unit' && cell !== '') this.takeUnit(c, cell, line)
    }
    if (table.columns[0]?.form === 'text' && table.firstTexts.length < FIRST_TEXTS)
      table.firstTexts.push(cells[0] ?? '')
    // A unit behind the last number, where blanks part the cells, is that number's.
    const [word = ''] = extra
    const last = table.columns.findLast(column => column.form === 'number')
    const isUnit = extra.length === 1 && cellForm(word, rules.decimal) === 'unit'
    if (isUnit && last && cells.length === table.columns.length + 1) unitFrom(last, word, table.rows, line)
    else if (!torn && extra.length > 0) table.note(line, extra.join(' '))
    table.endRow(line)
    return 'row'
  }
}

const keyOf = (cells: readonly string[]): string =>
  cells.map(cell => cell.toLowerCase().trim()).join('\u0000')

/** `Total;12.3`, `max 45`: a word first, then numbers; a line of results rather than a damaged row. */
const isTotals = (cells: readonly string[]): boolean => {
  const first = cells[0] ?? ''
  return /^[\p{L} :]{2,}$/u.test(first) && roleOf([first.toLowerCase()]) !== 'time'
}
