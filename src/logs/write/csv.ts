import type { Recording } from '../../core/recording.ts'
import type { ForceUnit } from '../../core/units/force.ts'
import { writtenColumns } from './columns.ts'
import { quotedCell, safeCell } from './safeCell.ts'

export interface CsvOptions {
  readonly delimiter?: ',' | ';' | '\t'
  /** A decimal comma needs another delimiter than the comma. */
  readonly decimal?: 'comma' | 'point'
  /** Unit of force to write; newton by default. Raw counts stay counts. */
  readonly unit?: ForceUnit
}

const ROWS_A_CHUNK = 4096

/**
 * The samples as CSV text, in pieces: `time_s,force_N` and a column for each channel; every digit of a value is kept.
 * A channel's name that a spreadsheet would run as a formula gets an apostrophe before it.
 */
export function* writeCsv(recording: Recording, options: CsvOptions = {}): Generator<string> {
  const { decimal = 'point', delimiter = decimal === 'comma' ? ';' : ',' } = options
  if (decimal === 'comma' && delimiter === ',')
    throw new RangeError('a decimal comma needs another delimiter than “,”')
  const columns = writtenColumns(recording, options.unit)
  yield `${columns.map(column => quotedCell(safeCell(column.name), delimiter)).join(delimiter)}\n`
  for (let from = 0; from < recording.timeS.length; from += ROWS_A_CHUNK) {
    const to = Math.min(recording.timeS.length, from + ROWS_A_CHUNK)
    let text = ''
    for (let i = from; i < to; i++) {
      for (const [c, { values, divisor }] of columns.entries()) {
        if (c > 0) text += delimiter
        const value = values[i]!
        if (Number.isFinite(value)) text += value / divisor
      }
      text += '\n'
    }
    yield decimal === 'comma' ? text.replaceAll('.', ',') : text
  }
}
