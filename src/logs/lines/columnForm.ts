import { cellForm, isValue } from '../cells/cell.ts'
import { cellsOf, type Split } from './delimiter.ts'
import { commentText } from './split.ts'
import { spreadPlace } from './spread.ts'

/** What a column holds. Stamps are kept as seconds; `unit` words belong to the column before. */
export type ColumnForm = 'number' | 'clock' | 'date' | 'date-time' | 'unit' | 'text'

/** A longer line is no row of samples. */
export const LONGEST_ROW = 4096

/** The cells of a line that may be a row of samples: some cell is a value. */
export function rowCells(text: string, split: Split): string[] | null {
  if (text === '' || text.length > LONGEST_ROW || commentText(text, split.delimiter) !== null) return null
  const cells = cellsOf(text, split.delimiter)
  return cells.some(cell => isValue(cellForm(cell, split.decimal))) ? cells : null
}

/** What scales print beside a value and no unit in capitals: stable or unstable, moving, tared. */
const STATUS = /^(?:ST|US|S|U|M|T|H|MS)$/

/** What most cells of each column are, among the rows of the usual width. */
export function columnForms(rows: readonly (readonly string[])[], split: Split): ColumnForm[] {
  const step = Math.max(1, Math.floor(rows.length / 400))
  return Array.from({ length: split.width }, (_, column) => {
    const counts = new Map<ColumnForm, number>()
    for (let k = 0; spreadPlace(k, step) < rows.length; k++) {
      const cell = rows[spreadPlace(k, step)]?.[column] ?? ''
      const form = STATUS.test(cell) ? 'text' : cellForm(cell, split.decimal)
      if (form === 'missing') continue
      const kept: ColumnForm = isValue(form) ? 'number' : (form as ColumnForm)
      counts.set(kept, (counts.get(kept) ?? 0) + 1)
    }
    const [most] = [...counts].sort((a, b) => b[1] - a[1])
    return most?.[0] ?? 'text'
  })
}

/** A row of the usual width whose numeric cells are numbers. */
export const fits = (cells: readonly string[], split: Split, forms: readonly ColumnForm[]): boolean =>
  cells.length === split.width && fitsSoFar(cells, split, forms)

/** A row whose cells are what their columns are, as far as both go. */
export const fitsSoFar = (cells: readonly string[], split: Split, forms: readonly ColumnForm[]): boolean =>
  cells.slice(0, forms.length).every((cell, c) => {
    const form = cellForm(cell, split.decimal)
    if (form === 'missing' || forms[c] === 'text') return true
    if (forms[c] === 'unit') return form === 'unit' || form === 'text'
    return forms[c] === 'number' ? isValue(form) : form === forms[c]
  })
