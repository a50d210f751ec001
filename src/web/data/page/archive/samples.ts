import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex } from '@noble/hashes/utils.js'
import { deflateSync, inflateSync } from 'fflate'
import { crc32 } from '../../../../core/crc32.ts'
import type { Recording } from '../../../../core/recording.ts'
import { N_PER } from '../../../../core/units/force.ts'
import { packSeries, unpackSeries } from '../../../../store/pack/series.ts'
import type { Row } from './rows.ts'

/** Samples and logs as a store keeps them, in compressed chunks with their checksums. */

const CHUNK_SAMPLES = 65_536
const LOG_PART_BYTES = 4 * 1024 * 1024

const bytesOf = (values: Float64Array): Uint8Array =>
  new Uint8Array(values.buffer, values.byteOffset, values.byteLength)

const seriesOf = (recording: Recording): readonly Float64Array[] => [
  recording.timeS,
  recording.forceN,
  ...recording.channels.map(channel => channel.values),
]

/** SHA-256 over the doubles of time, force and channels in order, little-endian. */
export function samplesSha256(series: readonly Float64Array[]): string {
  const hash = sha256.create()
  for (const values of series) hash.update(bytesOf(values))
  return bytesToHex(hash.digest())
}

/** The chunks of a recording’s samples, one row each, and their hash. */
export function packedSamples(
  recordingId: string,
  recording: Recording,
): { readonly sha256: string; readonly rows: Iterable<Row> } {
  const { forceUnit } = recording
  const perUnit = forceUnit === 'counts' || forceUnit === null ? 1 : N_PER[forceUnit]
  const all = seriesOf(recording)
  return {
    sha256: samplesSha256(all),
    rows: {
      *[Symbol.iterator]() {
        for (const [series, values] of all.entries())
          for (let from = 0, chunk = 0; from < values.length; from += CHUNK_SAMPLES, chunk++) {
            const part = values.subarray(from, from + CHUNK_SAMPLES)
            const factors = series === 1 && perUnit !== 1 ? [perUnit, -perUnit, 1] : [1, 0.001, 1e-6]
            yield {
              recording_id: recordingId,
              series,
              chunk,
              samples: part.length,
              crc32: crc32(bytesOf(part)),
              packed: deflateSync(packSeries(part, factors)),
            }
          }
      },
    },
  }
}

export function* packedLog(recordingId: string, log: Uint8Array): Iterable<Row> {
  for (let from = 0, part = 0; from < log.length; from += LOG_PART_BYTES, part++) {
    const raw = log.subarray(from, from + LOG_PART_BYTES)
    yield { recording_id: recordingId, part, raw_bytes: raw.length, packed: deflateSync(raw) }
  }
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
