import { isNeverBelowZero } from '../../core/answer/words.ts'
import type { ComparedSpecimen, Comparison } from '../../core/statistics/document.ts'
import { texts } from '../texts/index.ts'
import { amountText, type Shown, spanText } from './shown.ts'

const t = texts.compare

export const COLUMNS = ['group', 'specimen', 'value', 'doubt', 'mode', 'day', 'order', 'said'] as const
export type Column = (typeof COLUMNS)[number]

export interface TableRow {
  readonly specimen: ComparedSpecimen
  readonly cells: Readonly<Record<Column, string>>
}

/** The specimens of a comparison as rows of text. */
export function rowsOf({ specimens, quantity }: Comparison, shown: Shown): TableRow[] {
  const neverBelow = isNeverBelowZero(quantity, specimens)
  return specimens.map(specimen => ({
    specimen,
    cells: {
      group: specimen.group,
      specimen: specimen.name,
      value: [
        t.status[specimen.status],
        specimen.value === null ? '' : amountText(specimen.value, halfOf(specimen), shown),
      ]
        .filter(Boolean)
        .join(' '),
      doubt:
        specimen.low !== null && specimen.high !== null
          ? spanText([specimen.low, specimen.high], shown, neverBelow)
          : '–',
      mode: specimen.mode ?? '–',
      day: specimen.day ?? '–',
      order: specimen.order === null ? '–' : String(specimen.order + 1),
      said: [specimen.dropped, specimen.suspect ? t.standsApart : null].filter(Boolean).join('; '),
    },
  }))
}

const halfOf = ({ low, high }: ComparedSpecimen): number | null =>
  low === null || high === null ? null : (high - low) / 2

/** Sorted by a column: figures as figures, those without one last, the rest as people sort words. */
export function sortedRows(rows: readonly TableRow[], column: Column, falling: boolean): TableRow[] {
  const turn = falling ? -1 : 1
  return [...rows].sort((a, b) => {
    const [x, y] = [figureOf(a, column), figureOf(b, column)]
    if (x !== undefined && y !== undefined) {
      if (x === null || y === null) return x === y ? 0 : x === null ? 1 : -1
      return turn * (x - y)
    }
    return turn * a.cells[column].localeCompare(b.cells[column], undefined, { numeric: true })
  })
}

/** `undefined` for a column of words. */
function figureOf({ specimen }: TableRow, column: Column): number | null | undefined {
  if (column === 'value') return specimen.value
  if (column === 'order') return specimen.order
  if (column === 'doubt') return halfOf(specimen)
  return undefined
}

/** Rows that contain every word of a text, in any cell. */
export function filteredRows(rows: readonly TableRow[], text: string): TableRow[] {
  const words = text.toLowerCase().split(/\s+/).filter(Boolean)
  return rows.filter(({ cells }) => {
    const said = Object.values(cells).join(' ').toLowerCase()
    return words.every(word => said.includes(word))
  })
}

/** For a spreadsheet: tabs between cells; what a sheet would take for a formula gets an apostrophe before it. */
export function asSheetText(rows: readonly TableRow[]): string {
  const plain = (cell: string): string => {
    const flat = cell.replace(/[\t\r\n]+/g, ' ')
    return /^[=+\-@]/.test(flat) ? `'${flat}` : flat
  }
  const lines = [COLUMNS.map(column => t.columns[column]), ...rows.map(row => COLUMNS.map(c => row.cells[c]))]
  return lines.map(line => line.map(plain).join('\t')).join('\n')
}
