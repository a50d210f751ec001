import { createHash } from 'node:crypto'
import type { ChannelHead, RecordingInBlocks, RestOfBlocks } from '../../core/recording.ts'
import {
  bytesOf,
  CHUNK_SAMPLES,
  type PackedChunk,
  type PackedLogPart,
  packChunk,
  packParts,
  unpackChunk,
} from './recording.ts'
import type { Place, Scratch } from './scratch.ts'

/** A recording as it is kept, its packed bytes in a scratch file. */
export interface PackedInBlocks {
  readonly log: { readonly sha256: string; readonly bytes: number; parts(): AsyncIterable<PackedLogPart> }
  readonly samples: { readonly sha256: string; readonly count: number; chunks(): AsyncIterable<PackedChunk> }
  readonly startS: number | null
  readonly endS: number | null
  readonly channels: readonly ChannelHead[]
  readonly rest: RestOfBlocks
}

type Stored<T extends { readonly packed: Uint8Array }> = Omit<T, 'packed'> & { readonly place: Place }

/** Packs a recording that comes in blocks. Memory holds a block and its packed form. */
export async function packInBlocks(
  recording: RecordingInBlocks,
  log: AsyncIterable<Uint8Array>,
  scratch: Scratch,
): Promise<PackedInBlocks> {
  const chunks: Stored<PackedChunk>[] = []
  let count = 0
  let startS: number | null = null
  let endS: number | null = null
  const put = async ({ packed, ...told }: PackedChunk): Promise<void> => {
    chunks.push({ ...told, place: await scratch.put(packed) })
  }
  const blocks = recording.blocks()
  let next = await blocks.next()
  for (; !next.done; next = await blocks.next()) {
    const { timeS, forceN, channels } = next.value
    for (let from = 0; from < timeS.length; from += CHUNK_SAMPLES) {
      const chunk = (count + from) / CHUNK_SAMPLES
      for (const [series, values] of [timeS, forceN, ...channels].entries())
        await put(
          await packChunk(series, chunk, values.subarray(from, from + CHUNK_SAMPLES), recording.forceUnit),
        )
    }
    startS ??= timeS[0] ?? null
    endS = timeS.at(-1) ?? endS
    count += timeS.length
  }
  const rest = next.value
  const channels = [
    ...recording.channels,
    ...rest.lateChannels.map(({ name, kind, unit }) => ({ name, kind, unit })),
  ]
  const ofSeries = (series: number) => chunks.filter(chunk => chunk.series === series)
  const unpacked = async (chunk: Stored<PackedChunk>) =>
    unpackChunk({ ...chunk, packed: await scratch.get(chunk.place) })
  for (const [late, { valuesAt }] of rest.lateChannels.entries())
    for (const time of ofSeries(0)) {
      const values = valuesAt(await unpacked(time), time.chunk * CHUNK_SAMPLES)
      await put(
        await packChunk(2 + recording.channels.length + late, time.chunk, values, recording.forceUnit),
      )
    }
  // The hash goes over one series after the other; reading them again shows, too, that they can be.
  const hash = createHash('sha256')
  for (let series = 0; series < 2 + channels.length; series++)
    for (const chunk of ofSeries(series)) hash.update(bytesOf(await unpacked(chunk)))

  const logHash = createHash('sha256')
  const parts: Stored<PackedLogPart>[] = []
  let bytes = 0
  for await (const { packed, raw, ...told } of packParts(log)) {
    logHash.update(raw)
    bytes += raw.length
    parts.push({ ...told, place: await scratch.put(packed) })
  }
  return {
    log: { sha256: logHash.digest('hex'), bytes, parts: () => withBytes(parts, scratch) },
    samples: { sha256: hash.digest('hex'), count, chunks: () => withBytes(chunks, scratch) },
    startS,
    endS,
    channels,
    rest,
  }
}

async function* withBytes<T extends { readonly place: Place }>(
  stored: readonly T[],
  scratch: Scratch,
): AsyncGenerator<Omit<T, 'place'> & { readonly packed: Uint8Array }> {
  for (const { place, ...told } of stored) yield { ...told, packed: await scratch.get(place) }
}
