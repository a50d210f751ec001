import { cellForm } from '../cells/cell.ts'
import { cellsOf } from '../lines/delimiter.ts'
import { type Layout, unwrapped } from '../lines/layout.ts'
import { commentText, withoutResidue } from '../lines/split.ts'
import { roleOf } from '../words/roles.ts'
import { type SampleTable, unitFrom } from './sampleTable.ts'
import { takeCell } from './takeCell.ts'

/** What a line turned out to be. */
export type LineKind = 'row' | 'text' | 'blank'

/** What a device says when it starts; between samples it means a new zero of time. */
const BANNER =
  /\b(?:re-?boot|re-?start|boot(?:ing|ed)?|reset|power[- ]?(?:on|up)|start(?:ing|ed|up)|init(?:ial\p{L}*)?|setup|ready)\b/iu

/** A line that is no row: kept as a note, and taken as a restart where it says so. */
export function takeTextLine(table: SampleTable, text: string, line: number): void {
  if (table.rows > 0 && BANNER.test(text)) table.restart()
  table.note(line, text)
}

/** Takes lines of delimited cells, of any oddness. One for a log. */
export class CellRows {
  private readonly headerKey: string | null

  constructor(
    private readonly layout: Layout & { readonly kind: 'cells' },
    private readonly table: SampleTable,
  ) {
    for (const [c, form] of layout.forms.entries()) {
      table.addColumn(layout.header?.names[c] ?? '', form, layout.header?.units[c] ?? '')
    }
    this.headerKey = layout.header ? keyOf(layout.header.names) : null
  }

  take(given: string, line: number): LineKind {
    const { layout, table } = this
    const bare = withoutResidue(given)
    const text = layout.wrapped ? unwrapped(bare) : bare
    if (text.trim() === '') return 'blank'
    const comment = commentText(text, layout.delimiter)
    if (this.isHeader(comment ?? text)) {
      if (table.rows > 0) table.restart()
      return 'text'
    }
    if (comment !== null) {
      takeTextLine(table, comment, line)
      return 'text'
    }
    const cells = cellsOf(text, layout.delimiter)
    return this.takeCells(cells, text, line)
  }

  private isHeader(text: string): boolean {
    return this.headerKey !== null && keyOf(cellsOf(text, this.layout.delimiter)) === this.headerKey
  }

  private takeCells(cells: readonly string[], text: string, line: number): LineKind {
    const { layout, table } = this
    table.ensureRoom()
    let values = 0
    let unreadable = false
    for (const [c, column] of table.columns.entries()) {
      const cell = cells[c] ?? ''
      if (column.form === 'text') continue
      if (column.form === 'unit') {
        const before = table.columns[c - 1]
        if (before && cell !== '') unitFrom(before, cell, table.rows, line)
        continue
      }
      const taken = takeCell(table, column, cell, line, layout)
      if (taken === 'value') values++
      else if (taken === 'unreadable') unreadable = true
    }
    const extra = cells.slice(table.columns.length)
    // Numbers beyond the last column: two rows run together, or a delimiter lost or won. None of it can be trusted.
    const torn = extra.some(cell => cellForm(cell, layout.decimal) === 'number')
    if (values === 0 || (unreadable && isTotals(cells))) {
      takeTextLine(table, text, line)
      return 'text'
    }
    if (torn)
      for (const column of table.columns) if (column.values.length > 0) column.values[table.rows] = Number.NaN
    if (torn || unreadable) table.badRow(line, text)
    for (const [c, column] of table.columns.entries()) {
      if (column.form === 'text') takeCell(table, column, cells[c] ?? '', line, layout)
    }
    if (!torn && extra.length > 0) table.note(line, extra.join(' '))
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
