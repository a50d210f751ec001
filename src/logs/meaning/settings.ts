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
 * Whether the rows are settings or results, each with a name of its own before its number, rather than a
 * series: no column is a time, and the column of names never says the same twice running.
 */
export function isListOfSettings(table: SampleTable, { layout }: TableContext): boolean {
  if (table.rows > MOST_ROWS) return false
  // `Speed = 50`, `Width = 12`: no key comes again.
  if (layout.kind === 'keys')
    return table.columns.length > 2 && table.columns.every(({ missing }) => missing >= table.rows - 1)
  if (layout.kind !== 'cells' || layout.forms[0] !== 'text') return false
  const hasTime = table.columns.some(
    ({ name, unitRow, form }) => /^(?:clock|date)/.test(form) || headerMeaning(name, unitRow).role === 'time',
  )
  if (hasTime) return false
  const names = table.firstTexts.filter(text => !isMissing(text))
  const own = new Set(names.map(text => cellsOf(text, ' ').join(' ').toLowerCase()))
  return names.length >= 3 && own.size >= NAMED_SHARE * table.rows
}

/** What numbers or names the row of a result. */
const RESULT_OF =
  /^(?:specimen|sample|test|probe|probeta|prüfling|éprouvette|provino|próbka|образец|试样|試験片|pull|run|nr|no|id|#)/iu

/**
 * Whether each row is the result of a specimen: numbered or named by one, without a time, and with no force
 * but greatest ones. Where a rate is told, the rows are readings.
 */
export function isTableOfResults(table: SampleTable, { layout, options }: TableContext): boolean {
  if (layout.kind !== 'cells' || layout.header === null || table.rows > MOST_ROWS) return false
  if (options.rateHz !== undefined || options.time !== undefined) return false
  const meanings = table.columns.map(({ name, unitRow }) => headerMeaning(name, unitRow))
  const forces = meanings.filter(({ role }) => role === 'force')
  return (
    forces.length > 0 &&
    forces.every(({ standing }) => standing === 'derived') &&
    meanings.every(({ role }) => role !== 'time') &&
    table.columns.every(({ form }) => !/^(?:clock|date)/.test(form)) &&
    RESULT_OF.test(table.columns[0]?.name ?? '')
  )
}
