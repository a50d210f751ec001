import { cellForm } from '../cells/cell.ts'
import type { ColumnForm } from '../lines/columnForm.ts'
import { keyedLine } from '../lines/keyed.ts'
import { commentText, withoutResidue } from '../lines/split.ts'
import { headerMeaning } from '../words/header.ts'
import { forceUnitOf } from '../words/units.ts'
import { type LineKind, takeTextLine } from './cellRows.ts'
import { bareFrom, type Column, type SampleTable, unitFrom } from './sampleTable.ts'
import { type CellRules, takeCell } from './takeCell.ts'

export type KeyedCell = readonly [key: string, value: string | number]

/** Rows whose cells are named one by one: key=value lines, JSON objects. A key seen first in a later row makes a column then. */
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
    const keyed = comment === null ? keyedLine(text) : null
    if (keyed === null) {
      takeTextLine(this.table, comment ?? text, line)
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
    let unit = ''
    for (const [key, value] of cells) {
      if (typeof value === 'string' && isUnitKey(key, value)) {
        unit = value
        continue
      }
      const column = this.columnFor(key, value)
      if (!column) continue
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
    if (unreadable) table.badRow(line, text)
    if (unit !== '') this.takeUnitKey(unit, line)
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

  /** `"unit": "kgf"` beside the force, in a cell of its own. */
  private takeUnitKey(word: string, line: number): void {
    const force = this.table.columns.find(
      column => column.form === 'number' && headerMeaning(column.name).role === 'force',
    )
    if (force) unitFrom(force, word, this.table.rows, line)
  }
}

const isUnitKey = (key: string, value: string): boolean =>
  /^(?:force|load)?[ _-]?unit(?:s)?$|^einheit$|^unité$|^单位$|^単位$/iu.test(key) &&
  (forceUnitOf(value) !== null || value !== '')

function formOf(value: string | number, rules: CellRules): ColumnForm {
  if (typeof value === 'number') return 'number'
  const form = cellForm(value, rules.decimal)
  if (form === 'clock' || form === 'date' || form === 'date-time') return form
  // A key whose first value is missing is more often a number than a text.
  return form === 'text' || form === 'unit' ? 'text' : 'number'
}
