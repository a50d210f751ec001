import type { BlockOfSamples, Recording, RecordingHead } from '../../core/recording.ts'
import { columnHeads, seriesOf } from './columns.ts'

const ROWS_A_CHUNK = 4096

/** The samples as JSON Lines text, in pieces: `{"time_s":0.1,"force_N":2.5}`, a missing value as null. */
export function* writeJsonLines(recording: Recording): Generator<string> {
  yield* lines(recording, seriesOf(recording))
}

/** The same of a recording that comes in blocks: memory holds no more than one of them. */
export async function* writeJsonLinesInBlocks(
  recording: RecordingHead,
  blocks: AsyncIterable<BlockOfSamples>,
): AsyncGenerator<string> {
  for await (const block of blocks) yield* lines(recording, seriesOf(block))
}

function* lines(
  recording: Pick<RecordingHead, 'forceUnit' | 'channels'>,
  series: readonly Float64Array[],
): Generator<string> {
  const keys = columnHeads(recording).map(({ name }) => JSON.stringify(name))
  const samples = series[0]?.length ?? 0
  for (let from = 0; from < samples; from += ROWS_A_CHUNK) {
    const to = Math.min(samples, from + ROWS_A_CHUNK)
    let text = ''
    for (let i = from; i < to; i++) {
      const cells = keys.map((key, c) => {
        const value = series[c]![i]!
        return `${key}:${Number.isFinite(value) ? value : 'null'}`
      })
      text += `{${cells.join(',')}}\n`
    }
    yield text
  }
}
