import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex } from '@noble/hashes/utils.js'
import { deflateSync, inflateSync } from 'fflate'
import { crc32 } from '../../../../core/crc32.ts'
import type { Recording } from '../../../../core/recording.ts'
import { N_PER } from '../../../../core/units/force.ts'
import { packSeries, unpackSeries } from '../../../../store/pack/series.ts'
import { CHUNK_SAMPLES, LOG_PART_BYTES } from '../longRecordings.ts'
import type { Row } from './rows.ts'

/** Samples and logs as a store keeps them, in compressed chunks with their checksums. */

const bytesOf = (values: Float64Array): Uint8Array =>
  new Uint8Array(values.buffer, values.byteOffset, values.byteLength)

/** The series of a recording (0 time, 1 force, then the channels), each in its chunks, gone through as often as asked. */
export interface SeriesInChunks {
  readonly forceUnit: Recording['forceUnit']
  readonly count: number
  chunks(series: number): Iterable<Float64Array> | AsyncIterable<Float64Array>
}

export function seriesOf({ timeS, forceN, channels, forceUnit }: Recording): SeriesInChunks {
  const all = [timeS, forceN, ...channels.map(({ values }) => values)]
  return {
    forceUnit,
    count: all.length,
    *chunks(series) {
      const values = all[series]!
      for (let from = 0; from < values.length; from += CHUNK_SAMPLES)
        yield values.subarray(from, from + CHUNK_SAMPLES)
    },
  }
}

/** SHA-256 over the doubles of time, force and channels in order, little-endian. */
export async function samplesSha256({ count, chunks }: SeriesInChunks): Promise<string> {
  const hash = sha256.create()
  for (let series = 0; series < count; series++)
    for await (const values of chunks(series)) hash.update(bytesOf(values))
  return bytesToHex(hash.digest())
}

/** The chunks of a recording’s samples, one row each. */
export async function* packedSamples(
  recordingId: string,
  { forceUnit, count, chunks }: SeriesInChunks,
): AsyncGenerator<Row> {
  const perUnit = forceUnit === 'counts' || forceUnit === null ? 1 : N_PER[forceUnit]
  for (let series = 0; series < count; series++) {
    const factors = series === 1 && perUnit !== 1 ? [perUnit, -perUnit, 1] : [1, 0.001, 1e-6]
    let chunk = 0
    for await (const values of chunks(series))
      yield {
        recording_id: recordingId,
        series,
        chunk: chunk++,
        samples: values.length,
        crc32: crc32(bytesOf(values)),
        packed: deflateSync(packSeries(values, factors)),
      }
  }
}

/** A log in parts of one size, the last one shorter, one row each. */
export async function* packedLog(
  recordingId: string,
  parts: Iterable<Uint8Array> | AsyncIterable<Uint8Array>,
): AsyncGenerator<Row> {
  let part = 0
  for await (const raw of parts)
    yield { recording_id: recordingId, part: part++, raw_bytes: raw.length, packed: deflateSync(raw) }
}

export function* partsOf(log: Uint8Array): Iterable<Uint8Array> {
  for (let from = 0; from < log.length; from += LOG_PART_BYTES)
    yield log.subarray(from, from + LOG_PART_BYTES)
}

const inOrder = (rows: readonly Row[], column: string): Row[] =>
  [...rows].sort((a, b) => Number(a[column]) - Number(b[column]))

/** One series of samples from its chunks. @throws RangeError, or fflate’s error, where they are damaged */
export function unpackedSeries(rows: readonly Row[], samples: number): Float64Array {
  const values = new Float64Array(samples)
  let filled = 0
  for (const row of inOrder(rows, 'chunk')) {
    const part = unpackSeries(inflateSync(row.packed as Uint8Array), Number(row.samples))
    if (crc32(bytesOf(part)) !== row.crc32) throw new RangeError('samples do not match their checksum')
    if (filled + part.length > samples) throw new RangeError('there are more samples than it says')
    values.set(part, filled)
    filled += part.length
  }
  if (filled !== samples) throw new RangeError(`${samples - filled} samples are missing`)
  return values
}

/** A log from its parts. @throws RangeError, or fflate’s error, where they are damaged */
export function unpackedLog(rows: readonly Row[], bytes: number): Uint8Array<ArrayBuffer> {
  const log = new Uint8Array(bytes)
  let filled = 0
  for (const row of inOrder(rows, 'part')) {
    const raw = inflateSync(row.packed as Uint8Array)
    if (raw.length !== row.raw_bytes || filled + raw.length > bytes)
      throw new RangeError('a part of the log has another length than it says')
    log.set(raw, filled)
    filled += raw.length
  }
  if (filled !== bytes) throw new RangeError('a part of the log is missing')
  return log
}
