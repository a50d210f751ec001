import { createHash } from 'node:crypto'
import { promisify } from 'node:util'
import { crc32, deflateRaw, inflateRaw } from 'node:zlib'
import type { Channel, Recording } from '../../core/recording.ts'
import { N_PER } from '../../core/units/force.ts'
import { packSeries, unpackSeries } from './series.ts'

// The promises of zlib work outside the main thread: a capture in this process goes on.
const deflate = promisify(deflateRaw)
const inflate = promisify(inflateRaw)

/** Samples in a chunk: small enough that packing one keeps nothing else waiting (a few milliseconds). */
export const CHUNK_SAMPLES = 65_536
const LOG_PART_BYTES = 4 * 1024 * 1024

export interface PackedChunk {
  /** 0 time, 1 force, then the channels in order. */
  readonly series: number
  readonly chunk: number
  readonly samples: number
  /** Of the doubles' bytes, little-endian. */
  readonly crc32: number
  readonly packed: Uint8Array
}

export interface PackedLogPart {
  readonly part: number
  readonly rawBytes: number
  readonly packed: Uint8Array
}

export const bytesOf = (values: Float64Array): Uint8Array =>
  new Uint8Array(values.buffer, values.byteOffset, values.byteLength)

const seriesOf = (recording: Recording): Float64Array[] => [
  recording.timeS,
  recording.forceN,
  ...recording.channels.map((channel: Channel) => channel.values),
]

/** SHA-256 over the doubles of time, force and channels in order, little-endian: what `verify` checks. */
function samplesSha256(series: readonly Float64Array[]): string {
  const hash = createHash('sha256')
  for (const values of series) hash.update(bytesOf(values))
  return hash.digest('hex')
}

export async function packSamples(
  recording: Recording,
): Promise<{ sha256: string; chunks: readonly PackedChunk[] }> {
  const series = seriesOf(recording)
  const chunks: PackedChunk[] = []
  for (const [index, values] of series.entries())
    for (let from = 0, chunk = 0; from < values.length; from += CHUNK_SAMPLES, chunk++)
      chunks.push(
        await packChunk(index, chunk, values.subarray(from, from + CHUNK_SAMPLES), recording.forceUnit),
      )
  return { sha256: samplesSha256(series), chunks }
}

/** At most `CHUNK_SAMPLES` of a series. */
export async function packChunk(
  series: number,
  chunk: number,
  values: Float64Array,
  forceUnit: Recording['forceUnit'],
): Promise<PackedChunk> {
  const perUnit = forceUnit === 'counts' || forceUnit === null ? 1 : N_PER[forceUnit]
  const factors = series === 1 && perUnit !== 1 ? [perUnit, -perUnit, 1] : [1, 0.001, 1e-6]
  const packed = await deflate(packSeries(values, factors))
  return { series, chunk, samples: values.length, crc32: crc32(bytesOf(values)), packed }
}

/** @throws RangeError, or zlib's error, where the bytes are damaged */
export async function unpackChunk({ samples, crc32: wanted, packed }: Omit<PackedChunk, 'series' | 'chunk'>) {
  const values = unpackSeries(await inflate(packed, { maxOutputLength: 16 * samples + 4096 }), samples)
  if (crc32(bytesOf(values)) !== wanted) throw new RangeError('samples do not match their checksum')
  return values
}

/** The log's own bytes in compressed parts, with their hash. */
export async function packLog(
  log: Uint8Array | AsyncIterable<Uint8Array>,
): Promise<{ sha256: string; bytes: number; parts: readonly PackedLogPart[] }> {
  const hash = createHash('sha256')
  const parts: PackedLogPart[] = []
  let bytes = 0
  for await (const { raw, ...part } of packParts(log instanceof Uint8Array ? [log] : log)) {
    hash.update(raw)
    bytes += raw.length
    parts.push(part)
  }
  return { sha256: hash.digest('hex'), bytes, parts }
}

/** The log's own bytes in compressed parts, each with what it was made of. */
export async function* packParts(
  log: Iterable<Uint8Array> | AsyncIterable<Uint8Array>,
): AsyncGenerator<PackedLogPart & { readonly raw: Uint8Array }> {
  let part = 0
  for await (const raw of inParts(log))
    yield { part: part++, rawBytes: raw.length, packed: await deflate(raw), raw }
}

/** The same bytes in pieces of one size, the last one shorter. */
async function* inParts(pieces: Iterable<Uint8Array> | AsyncIterable<Uint8Array>): AsyncIterable<Uint8Array> {
  let part = new Uint8Array(LOG_PART_BYTES)
  let filled = 0
  for await (const piece of pieces)
    for (let from = 0; from < piece.length; ) {
      const taken = piece.subarray(from, from + LOG_PART_BYTES - filled)
      part.set(taken, filled)
      filled += taken.length
      from += taken.length
      if (filled === LOG_PART_BYTES) {
        yield part
        part = new Uint8Array(LOG_PART_BYTES)
        filled = 0
      }
    }
  if (filled > 0) yield part.subarray(0, filled)
}

/** @throws zlib's error, or RangeError, where the bytes are damaged */
export async function unpackLogPart({ rawBytes, packed }: Omit<PackedLogPart, 'part'>): Promise<Uint8Array> {
  const raw = await inflate(packed, { maxOutputLength: LOG_PART_BYTES })
  if (raw.length !== rawBytes)
    throw new RangeError(`a part of the log has ${raw.length} bytes, not ${rawBytes}`)
  return raw
}
