import { type PlainRows, takePlainRows } from './fastRows.ts'
import { takePairRows } from './pairRows.ts'
import type { SampleTable } from './sampleTable.ts'

/**
 * Takes rows of plain numbers from `bytes[at…end)`, which ends with a line end, by the quickest loop that
 * reads them. Gives the place of the first row that is none, or where the table was full, or `end`.
 */
export function takeNumbers(
  bytes: Uint8Array,
  at: number,
  end: number,
  firstLine: number,
  plain: PlainRows,
  table: SampleTable,
): number {
  const before = table.rows
  const stop = plain.columns.length === 2 ? takePairRows(bytes, at, end, firstLine, plain, table) : at
  if (stop >= end) return stop
  return takePlainRows(bytes, stop, end, firstLine + table.rows - before, plain, table)
}
