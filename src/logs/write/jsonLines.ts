import type { Recording } from '../../core/recording.ts'
import { writtenColumns } from './columns.ts'

const ROWS_A_CHUNK = 4096

/** The samples as JSON Lines text, in pieces: `{"time_s":0.1,"force_N":2.5}`, a missing value as null. */
export function* writeJsonLines(recording: Recording): Generator<string> {
  const columns = writtenColumns(recording).map(column => ({ ...column, key: JSON.stringify(column.name) }))
  for (let from = 0; from < recording.timeS.length; from += ROWS_A_CHUNK) {
    const to = Math.min(recording.timeS.length, from + ROWS_A_CHUNK)
    let text = ''
    for (let i = from; i < to; i++) {
      const cells = columns.map(
        ({ key, values }) => `${key}:${Number.isFinite(values[i]!) ? values[i]! : 'null'}`,
      )
      text += `{${cells.join(',')}}\n`
    }
    yield text
  }
}
