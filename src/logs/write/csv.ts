import type { BlockOfSamples, Recording, RecordingHead } from '../../core/recording.ts'
import type { ForceUnit } from '../../core/units/force.ts'
import { columnHeads, seriesOf } from './columns.ts'
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
 * The samples as CSV text, in pieces: `time_s,force_N` and a column for each channel; every digit of a value
 * is kept. A channel's name that a spreadsheet would run as a formula gets an apostrophe before it.
 */
export function* writeCsv(recording: Recording, options: CsvOptions = {}): Generator<string> {
  const { head, rows } = csvTable(recording, options)
  yield head
  yield* rows(seriesOf(recording))
}

/** The same of a recording that comes in blocks: memory holds no more than one of them. */
export async function* writeCsvInBlocks(
  recording: RecordingHead,
  blocks: AsyncIterable<BlockOfSamples>,
  options: CsvOptions = {},
): AsyncGenerator<string> {
  const { head, rows } = csvTable(recording, options)
  yield head
  for await (const block of blocks) yield* rows(seriesOf(block))
}

function csvTable(recording: Pick<RecordingHead, 'forceUnit' | 'channels'>, options: CsvOptions) {
  const { decimal = 'point', delimiter = decimal === 'comma' ? ';' : ',' } = options
  if (decimal === 'comma' && delimiter === ',')
    throw new RangeError('a decimal comma needs another delimiter than “,”')
  const columns = columnHeads(recording, options.unit)
  return {
    head: `${columns.map(column => quotedCell(safeCell(column.name), delimiter)).join(delimiter)}\n`,
    *rows(series: readonly Float64Array[]): Generator<string> {
      const samples = series[0]?.length ?? 0
      for (let from = 0; from < samples; from += ROWS_A_CHUNK) {
        const to = Math.min(samples, from + ROWS_A_CHUNK)
        let text = ''
        for (let i = from; i < to; i++) {
          for (const [c, { divisor }] of columns.entries()) {
            if (c > 0) text += delimiter
            const value = series[c]![i]!
            if (Number.isFinite(value)) text += value / divisor
          }
          text += '\n'
        }
        yield decimal === 'comma' ? text.replaceAll('.', ',') : text
      }
    },
  }
}
