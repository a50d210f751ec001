import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { readTable, type Table, type TableRow, tableNumber } from '../readTable.ts'
import type { SpecimenRow } from './document.ts'

const COLUMNS = [
  'file',
  'specimen',
  'variant',
  'elements',
  'width_mm',
  'thickness_mm',
  'length_mm',
  'mode',
  'note',
] as const
type ColumnName = (typeof COLUMNS)[number]

/**
 * Reads a table of specimens. `tell` is given a line for each thing that is odd but does no harm, as a column that
 * is not known. Problems, all at once: no `file`, a row without it, a file twice, a number that is none or not above 0.
 */
export function readSpecimensTable(
  bytes: Uint8Array,
  name: string,
  tell: (text: string) => void = () => {},
): Outcome<SpecimenRow[]> {
  const table = readTable(bytes, name)
  if (!table.ok) return table
  const columnOf = new Map<ColumnName, number>()
  for (const [c, given] of table.value.names.entries()) {
    const known = COLUMNS.find(column => column === folded(given))
    if (known === undefined) {
      tell(`${name}: column “${printable(given)}” is not one of ${COLUMNS.join(', ')}, and is passed over.`)
    } else if (columnOf.has(known)) tell(`${name}: column ${known} is there twice; the first counts.`)
    else columnOf.set(known, c)
  }
  if (!columnOf.has('file')) {
    return wrong({
      where: `${name}, line 1`,
      what: `there is no column “file”, only ${table.value.names.map(given => `“${printable(given)}”`).join(', ')}.`,
      cure: `Name the columns in the first line: file and any of ${COLUMNS.slice(1).join(', ')}.`,
    })
  }
  const problems: Problem[] = []
  const rows = table.value.rows.map(row => specimenRow(table.value, row, columnOf, problems))
  const seen = new Map<string, number>()
  for (const { file, line } of rows) {
    const before = seen.get(file)
    if (file !== '' && before !== undefined) {
      problems.push({
        where: `${name}, line ${line}, file`,
        what: `“${printable(file)}” stands in line ${before} already.`,
        cure: 'Keep one row for each log; logs of one specimen share its name under specimen.',
      })
    }
    seen.set(file, line)
  }
  return problems.length > 0 ? wrong(...problems) : fine(rows)
}

/** `Width (mm)`, `width mm` → `width_mm`. */
const folded = (name: string): string =>
  name
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '_')
    .replace(/^_|_$/g, '')

function specimenRow(
  table: Table,
  row: TableRow,
  columnOf: ReadonlyMap<ColumnName, number>,
  problems: Problem[],
): SpecimenRow {
  const text = (column: ColumnName): string => row.cells[columnOf.get(column) ?? -1] ?? ''
  const textOrNull = (column: ColumnName): string | null => text(column) || null
  const numberOrNull = (column: ColumnName, whole = false): number | null => {
    const given = text(column)
    if (given === '') return null
    const value = tableNumber(table, given)
    if (value !== null && value > 0 && (!whole || Number.isInteger(value))) return value
    problems.push({
      where: `${table.name}, line ${row.line}, ${column}`,
      what: `“${printable(given)}” is not a ${whole ? 'whole ' : ''}number above 0.`,
      cure: 'Mend the cell, or leave it empty where the figure is not known.',
    })
    return null
  }
  if (text('file') === '') {
    problems.push({
      where: `${table.name}, line ${row.line}, file`,
      what: 'the row names no file.',
      cure: 'Give the name of the log that the row belongs to.',
    })
  }
  return {
    line: row.line,
    file: text('file'),
    specimen: textOrNull('specimen'),
    variant: textOrNull('variant'),
    elements: numberOrNull('elements', true),
    widthMm: numberOrNull('width_mm'),
    thicknessMm: numberOrNull('thickness_mm'),
    lengthMm: numberOrNull('length_mm'),
    mode: textOrNull('mode'),
    note: textOrNull('note'),
  }
}
