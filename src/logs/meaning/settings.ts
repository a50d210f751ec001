import { isMissing } from '../cells/number.ts'
import { cellsOf } from '../lines/delimiter.ts'
import type { SampleTable } from '../table/sampleTable.ts'
import { headerMeaning } from '../words/header.ts'
import type { TableContext } from './tableContext.ts'

/** A list of settings is no longer than this. */
const MOST_ROWS = 300
/** So large a share of the rows has a name of its own. */
const NAMED_SHARE = 0.7

/**
 * Whether the rows are settings or results, each with a name of its own before its number, rather than a series: no
 * column is a time, and the column of names never says the same twice running.
 */
export function isListOfSettings(table: SampleTable, { layout }: TableContext): boolean {
  if (layout.kind !== 'cells' || table.rows > MOST_ROWS || layout.forms[0] !== 'text') return false
  const hasTime = table.columns.some(
    ({ name, unitRow, form }) => /^(?:clock|date)/.test(form) || headerMeaning(name, unitRow).role === 'time',
  )
  if (hasTime) return false
  const names = table.firstTexts.filter(text => !isMissing(text))
  const own = new Set(names.map(text => cellsOf(text, ' ').join(' ').toLowerCase()))
  return names.length >= 3 && own.size >= NAMED_SHARE * table.rows
}
