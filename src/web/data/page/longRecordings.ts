import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex } from '@noble/hashes/utils.js'
import type { DBSchema } from 'idb'
import { allOf } from '../../../capture/journal/frames.ts'
import type { ChannelHead, Recording, RecordingInBlocks } from '../../../core/recording.ts'
import { withHash } from '../../../core/withHash.ts'
import type { LogOptions } from '../../../logs/index.ts'
import { BYTES_A_SAMPLE, needText } from '../../../server/desk/readLater.ts'
import { Trouble } from '../trouble.ts'
import { connection } from './connection.ts'

/**
 * Recordings that are too long to be held whole, as a capture of hours: their samples in chunks, their logs in parts, in a
 * storage beside the studies. They are written before the entry that names them: what a cut leaves behind is written over
 * when its journal is taken in again.
 */

/** As a store has them. */
export const CHUNK_SAMPLES = 65_536
export const LOG_PART_BYTES = 4 * 1024 * 1024
/** Memory that a reading may take in a page. */
const MOST_READ_BYTES = 1024 ** 3

interface LongHead {
  readonly recording: Omit<Recording, 'timeS' | 'forceN' | 'channels'>
  readonly channels: readonly ChannelHead[]
  readonly samples: number
  readonly startS: number | null
  readonly endS: number | null
  readonly logBytes: number
  readonly options: LogOptions
}

/** Version 1; a change of shape is a further step in the upgrade. */
interface LongDb extends DBSchema {
  heads: { key: string; value: LongHead }
  chunks: { key: [recordingId: string, series: number, chunk: number]; value: Float64Array }
  parts: { key: [recordingId: string, part: number]; value: Uint8Array<ArrayBuffer> }
}

const longDb = connection<LongDb>('tenterhook-long', 1, db => {
  for (const name of ['heads', 'chunks', 'parts'] as const) db.createObjectStore(name)
})

/** Writes a recording under its id, block by block: memory holds no more of it than a block. */
export async function writeLong(
  id: string,
  recording: RecordingInBlocks,
  log: AsyncIterable<Uint8Array>,
  options: LogOptions,
): Promise<LongHead> {
  const db = await longDb()
  let samples = 0
  let startS: number | null = null
  let endS: number | null = null
  const blocks = recording.blocks()
  let next = await blocks.next()
  for (; !next.done; next = await blocks.next()) {
    const { timeS, forceN, channels } = next.value
    await putChunks(id, samples / CHUNK_SAMPLES, [timeS, forceN, ...channels].entries())
    startS ??= timeS[0] ?? null
    endS = timeS.at(-1) ?? endS
    samples += timeS.length
  }
  const { lateChannels, ...rest } = next.value
  for (const [late, { valuesAt }] of lateChannels.entries())
    for (let chunk = 0; chunk * CHUNK_SAMPLES < samples; chunk++) {
      const timeS = (await db.get('chunks', [id, 0, chunk]))!
      const values = valuesAt(timeS, chunk * CHUNK_SAMPLES)
      await putChunks(id, chunk, [[2 + recording.channels.length + late, values]])
    }
  const { hash, bytes } = await writeLog(id, log)
  const { name, forceUnit } = recording
  const head: LongHead = {
    recording: withHash({ name, sha256: '', forceUnit, ...rest }, hash),
    channels: [...recording.channels, ...lateChannels.map(({ name, kind, unit }) => ({ name, kind, unit }))],
    samples,
    startS,
    endS,
    logBytes: bytes,
    options,
  }
  const change = db.transaction('heads', 'readwrite', { durability: 'strict' })
  await change.store.put(head, id)
  await change.done
  return head
}

/** Series of values, or stretches of them that begin at a chunk, in one transaction that is on the disk once this resolves. */
async function putChunks(
  id: string,
  first: number,
  series: Iterable<readonly [series: number, values: Float64Array]>,
): Promise<void> {
  const change = (await longDb()).transaction('chunks', 'readwrite', { durability: 'strict' })
  for (const [index, values] of series)
    for (let from = 0; from < values.length; from += CHUNK_SAMPLES)
      change.store
        // Of its own: a view would be written with all that stands behind it.
        .put(values.slice(from, from + CHUNK_SAMPLES), [id, index, first + from / CHUNK_SAMPLES])
        // Told by the transaction as a whole.
        .catch(() => {})
  await change.done
}

async function writeLog(
  id: string,
  log: AsyncIterable<Uint8Array>,
): Promise<{ readonly hash: string; readonly bytes: number }> {
  const db = await longDb()
  const hash = sha256.create()
  const part = new Uint8Array(LOG_PART_BYTES)
  let filled = 0
  let parts = 0
  const flush = async (): Promise<void> => {
    if (filled === 0) return
    const change = db.transaction('parts', 'readwrite', { durability: 'strict' })
    change.store.put(part.slice(0, filled), [id, parts++]).catch(() => {})
    await change.done
    filled = 0
  }
  let bytes = 0
  for await (const piece of log) {
    hash.update(piece)
    bytes += piece.length
    for (let from = 0; from < piece.length; ) {
      const taken = piece.subarray(from, from + LOG_PART_BYTES - filled)
      part.set(taken, filled)
      filled += taken.length
      from += taken.length
      if (filled === LOG_PART_BYTES) await flush()
    }
  }
  await flush()
  return { hash: bytesToHex(hash.digest()), bytes }
}

/** What is known of a long recording besides its samples; `undefined`: it is none. */
export const longHead = async (id: string): Promise<LongHead | undefined> => (await longDb()).get('heads', id)

/** One series of its samples (0 time, 1 force, then the channels), chunk by chunk. */
export async function* longSeries(id: string, series: number, samples: number): AsyncGenerator<Float64Array> {
  for (let chunk = 0; chunk * CHUNK_SAMPLES < samples; chunk++) {
    const values = await (await longDb()).get('chunks', [id, series, chunk])
    if (values === undefined) throw damaged(id, `chunk ${chunk} of its samples is missing.`)
    yield values
  }
}

/** Its log as received, in parts. */
export async function* longLog(id: string): AsyncGenerator<Uint8Array<ArrayBuffer>> {
  for (let part = 0; ; part++) {
    const bytes = await (await longDb()).get('parts', [id, part])
    if (bytes === undefined) return
    yield bytes
  }
}

/** All its samples; `undefined` where it is none. @throws Trouble where a page has not the memory to read them */
export async function longSamples(id: string): Promise<Recording | undefined> {
  const head = await longHead(id)
  if (head === undefined) return undefined
  const { recording, channels, samples } = head
  if (BYTES_A_SAMPLE * samples > MOST_READ_BYTES) throw new Trouble([tooLong(id, samples)])
  const whole = async (series: number): Promise<Float64Array> => {
    const values = new Float64Array(samples)
    let filled = 0
    for await (const chunk of longSeries(id, series, samples)) {
      values.set(chunk, filled)
      filled += chunk.length
    }
    return values
  }
  const [timeS, forceN] = [await whole(0), await whole(1)]
  const all: Recording['channels'][number][] = []
  for (const [c, channel] of channels.entries()) all.push({ ...channel, values: await whole(2 + c) })
  return { ...recording, timeS, forceN, channels: all }
}

/** Its log whole, with how it is to be read; `undefined` where it is none. */
export async function wholeLongLog(
  id: string,
): Promise<{ readonly bytes: Uint8Array<ArrayBuffer>; readonly options: LogOptions } | undefined> {
  const head = await longHead(id)
  return head && { bytes: await allOf(longLog(id)), options: head.options }
}

const tooLong = (id: string, samples: number) => ({
  where: `recording “${id}”`,
  what: `reading its ${samples.toLocaleString('en-US')} samples needs about ${needText(samples)} of memory, more than a page may take.`,
  cure: 'It is kept whole. Save everything as one file, and read it with Tenterhook as a program: tenterhook import --all FILE.',
})

const damaged = (id: string, what: string) =>
  new Trouble([
    {
      where: `recording “${id}”`,
      what,
      cure: 'Take in a file in which everything was saved; its log as received may still be whole.',
    },
  ])
