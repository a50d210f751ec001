import type { LogBody } from '../../src/logs/logBody.ts'
import type { SampleTable } from '../../src/logs/table/sampleTable.ts'

/** All that the body of a log has left in its table, for comparing. */
export function left(body: LogBody, table: SampleTable) {
  const problem = body.finish('log.csv')
  const { rows, notes, restarts, badRows, cutLine, columns } = table
  const lineOf = Array.from({ length: rows }, (_, row) => table.lineOf(row))
  const values = columns.map(column => ({ ...column, values: column.values.slice(0, rows) }))
  return { problem, rows, notes, restarts, badRows, cutLine, values, lineOf, texts: body.texts }
}
