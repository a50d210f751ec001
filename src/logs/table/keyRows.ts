import { cellForm } from '../cells/cell.ts'
import type { ColumnForm } from '../lines/columnForm.ts'
import { keyedLine } from '../lines/keyed.ts'
import { commentText, withoutResidue } from '../lines/split.ts'
import { headerMeaning } from '../words/header.ts'
import { type LineKind, takeComment, takeTextLine } from './cellRows.ts'
import { bareFrom, type Column, type SampleTable, unitFrom } from './sampleTable.ts'
import { type CellRules, takeCell } from './takeCell.ts'
import { unitOwner } from './unitOwner.ts'

export type KeyedCell = readonly [key: string, value: string | number]

/**
 * Rows whose cells are named one by one: key=value lines, JSON objects. A key seen first in a later row makes
 * a column then.
 */
export class KeyRows {
  private readonly indexOf = new Map<string, number>()

  constructor(
    private readonly table: SampleTable,
    private readonly rules: CellRules,
  ) {}

  takeLine(given: string, line: number): LineKind {
    const text = withoutResidue(given)
    if (text.trim() === '') return 'blank'
    const comment = commentText(text)
    const keyed = keyedLine(comment ?? text)
    if (comment !== null) {
      const isRow = keyed?.pairs.every(([key]) => this.indexOf.has(key))
      takeComment(this.table, text, comment, line, isRow === true)
      return 'text'
    }
    if (keyed === null) {
      takeTextLine(this.table, text, line)
      return 'text'
    }
    const cells: KeyedCell[] = keyed.lead === '' ? [...keyed.pairs] : [['', keyed.lead], ...keyed.pairs]
    return this.takeCells(cells, text, line)
  }

  takeCells(cells: readonly KeyedCell[], text: string, line: number): LineKind {
    const { table } = this
    table.ensureRoom()
    for (const column of table.columns) if (column.values.length > 0) column.values[table.rows] = Number.NaN
    const later: (readonly [Column, string])[] = []
    let values = 0
    let unreadable = false
    const units: [owner: string, word: string, after: number][] = []
    let at = 0
    for (const [key, value] of cells) {
      const owner = typeof value === 'string' && value !== '' ? unitKeyOwner(key) : null
      if (owner !== null) {
        units.push([owner, String(value), at])
        continue
      }
      const column = this.columnFor(key, value)
      if (!column) continue
      at = table.columns.indexOf(column) + 1
      if (typeof value === 'number' && column.form === 'number') {
        column.values[table.rows] = value
        bareFrom(column, table.rows, line)
        values++
        continue
      }
      if (column.form === 'text') {
        later.push([column, String(value)])
        continue
      }
      const taken = takeCell(table, column, String(value), line, this.rules)
      if (taken === 'value') values++
      else if (taken === 'unreadable') unreadable = true
    }
    if (values === 0) {
      takeTextLine(table, text, line)
      return 'text'
    }
    for (const [column, value] of later) takeCell(table, column, value, line, this.rules)
    if (unreadable) table.unreadableRow(text)
    for (const [owner, word, after] of units) this.takeUnitKey(owner, word, after, line)
    table.endRow(line)
    return 'row'
  }

  private columnFor(key: string, value: string | number): Column | null {
    const known = this.indexOf.get(key)
    if (known !== undefined) return this.table.columns[known] ?? null
    // A log with more columns than this is something else.
    if (this.indexOf.size >= 256) return null
    const index = this.table.addColumn(key, formOf(value, this.rules))
    this.indexOf.set(key, index)
    return this.table.columns[index] ?? null
  }

  /**
   * `"unit": "kgf"`, `"time_unit": "us"`, `"force": {"value": 1, "unit": "kgf"}`: the unit of a number under
   * another key.
   */
  private takeUnitKey(owner: string, word: string, after: number, line: number): void {
    const { columns, rows } = this.table
    const namesake = columns.find(
      ({ name, form }) =>
        form === 'number' && owner !== '' && (name === owner || name.startsWith(`${owner}.`)),
    )
    const role = owner === '' ? null : headerMeaning(owner).role
    const alike = role
      ? columns.find(c => c.form === 'number' && headerMeaning(c.name).role === role)
      : undefined
    const column = namesake ?? alike ?? unitOwner(columns, after, word)
    if (column) unitFrom(column, word, rows, line)
  }
}

/**
 * What a key of a unit names beside `unit`: `''` for `unit` alone, `time` for `time_unit`; `null` for any
 * other key.
 */
function unitKeyOwner(key: string): string | null {
  const found =
    /^(?:(.*?)[ ._-]?(?:units?|uom|einheit|unité|单位|単位)|units?[ ._-]?(?:of[ _-])?(.+))$/iu.exec(key)
  return found ? (found[1] ?? found[2] ?? '') : null
}

function formOf(value: string | number, rules: CellRules): ColumnForm {
  if (typeof value === 'number') return 'number'
  const form = cellForm(value, rules.decimal)
  if (form === 'clock' || form === 'date' || form === 'date-time') return form
  // A key whose first value is missing is more often a number than a text.
  return form === 'text' || form === 'unit' ? 'text' : 'number'
}
