import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { SpecimenFacts } from '../../core/statistics/compare/fromReading.ts'
import { DEFAULT_PATTERN, namePattern } from '../../core/statistics/compare/namePattern.ts'
import { withoutEnding } from '../../core/withoutEnding.ts'
import { readSpecimensTable, readTable, type SpecimenRow, tableNumber } from '../../logs/index.ts'
import { nameOfInput, readBytes } from '../files.ts'
import { columnCalled, folded } from './columns.ts'

/** Columns of the table of specimens that only a comparison reads. */
const OWN_COLUMNS = ['day', 'batch', 'operator', 'order', 'dropped'] as const
type OwnColumn = (typeof OWN_COLUMNS)[number]

export interface TableFacts {
  readonly row: SpecimenRow
  readonly own: Readonly<Record<OwnColumn, string>>
  readonly order: number | null
}

/** The table of specimens with the columns of a comparison, by the name of the log. */
export async function openTableFacts(path: string): Promise<Outcome<(log: string) => TableFacts | null>> {
  const bytes = await readBytes(path)
  if (!bytes.ok) return bytes
  const rows = readSpecimensTable(bytes.value, path, () => {})
  const table = readTable(bytes.value, path)
  if (!rows.ok) return rows
  if (!table.ok) return table
  const places = OWN_COLUMNS.map(name => columnCalled(table.value, [name]))
  const problems: Problem[] = []
  const facts = rows.value.map((row, i): TableFacts => {
    const cells = table.value.rows[i]!.cells
    const own = Object.fromEntries(
      OWN_COLUMNS.map((name, k) => [name, places[k]! < 0 ? '' : cells[places[k]!]!]),
    ) as Record<OwnColumn, string>
    const order = own.order === '' ? null : tableNumber(table.value, own.order)
    if (own.order !== '' && order === null) {
      problems.push({
        where: `${path}, line ${row.line}, order`,
        what: `“${printable(own.order)}” is not a number.`,
        cure: 'Give the place in the order of pulling, from 1.',
      })
    }
    return { row, own, order }
  })
  if (problems.length > 0) return wrong(...problems)
  const byFile = new Map(facts.map(f => [f.row.file, f]))
  return fine(log => byFile.get(log) ?? byFile.get(nameOfInput(log)) ?? null)
}

export interface NameFacts extends SpecimenFacts {
  readonly table: TableFacts | null
  /** The log is said to be one of several of its specimen. */
  readonly partOfSeveral: boolean
}

export interface FactOptions {
  readonly by: string | null
  readonly table: ((log: string) => TableFacts | null) | null
  /** What is a block: `day`, `batch` or `operator`. */
  readonly blocksBy: string | null
  /** There is but one log: where nothing says which variant it is of, it goes by its own name. */
  readonly isLone?: boolean
}

/** What is known of a specimen before its reading; `variant` is what a reading document says itself. */
export type FactsOf = (log: string, variant: string | null, name: string | null) => Outcome<NameFacts>

/** How names and the table are turned into groups. Problem: a pattern that is none. */
export function factsFrom({ by, table, blocksBy, isLone = false }: FactOptions): Outcome<FactsOf> {
  const pattern = namePattern(by ?? DEFAULT_PATTERN)
  if (!pattern.ok) return pattern
  return fine((log, variant, name) => {
    const row = table?.(log) ?? null
    const parts = pattern.value(nameOfInput(log))
    const group =
      (by === null ? null : parts?.variant) ??
      row?.row.variant ??
      variant ??
      parts?.variant ??
      (isLone && by === null ? withoutEnding(nameOfInput(log)) : undefined)
    if (group === undefined) {
      return wrong({
        where: nameOfInput(log),
        what:
          by === null
            ? 'nothing says which variant it is of.'
            : `its name does not fit the pattern “${printable(by)}”.`,
        cure: 'Say with --by how file names are made, as in --by "{variant}-{n}.csv", or give a table with --specimens.',
      })
    }
    const field = (key: 'day' | 'batch' | 'operator') => row?.own[key] || parts?.[key] || null
    const label = row?.row.specimen ?? name ?? labelOf(nameOfInput(log), group, parts?.n ?? null)
    return fine({
      name: label,
      group,
      mode: row?.row.mode ?? null,
      day: field('day'),
      block: blocksBy === null ? null : field(folded(blocksBy) as 'day' | 'batch' | 'operator'),
      order: row?.order ?? (parts?.order ? Number(parts.order) : null),
      dropped: row?.own.dropped || null,
      table: row,
      partOfSeveral: (row?.row.specimen ?? null) !== null || (parts?.part ?? null) !== null,
    })
  })
}

const labelOf = (file: string, group: string, n: string | null): string =>
  n === null ? withoutEnding(file) : `${group} ${n}`
