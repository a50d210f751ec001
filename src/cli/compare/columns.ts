import { printable } from '../../core/printable.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Table } from '../../logs/index.ts'

/** `Width (mm)` → `width_mm`: how names of columns are held against each other. */
export const folded = (name: string): string =>
  name
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '_')
    .replace(/^_|_$/g, '')

/** A column by its name, without case and signs, or by its number from 1. */
export function columnAt(table: Table, asked: string): Outcome<number> {
  const exact = table.names.indexOf(asked)
  const byName =
    exact >= 0 ? exact : table.names.findIndex(name => name !== '' && folded(name) === folded(asked))
  if (byName >= 0) return fine(byName)
  const number = Number(asked)
  if (Number.isInteger(number) && number >= 1 && number <= table.names.length) return fine(number - 1)
  return wrong({
    where: table.name,
    what: `there is no column “${printable(asked)}”.`,
    cure: `Its columns are ${columnList(table)}; a number from 1 does as well.`,
  })
}

export const columnList = (table: Table): string =>
  table.names.map((name, i) => (name === '' ? `number ${i + 1}` : `“${printable(name, 30)}”`)).join(', ')

/** The first column that goes by one of these names, or −1. */
export const columnCalled = (table: Table, names: readonly string[]): number =>
  table.names.findIndex(name => names.includes(folded(name)))
