import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Channel, Recording } from '../../core/recording.ts'

/**
 * A recording as one block of bytes, to hand it from one part of the program to another without loss: a head of JSON,
 * then its columns as little-endian doubles. Not a file format: both ends are of one version.
 *
 *     4 bytes   length of the head, little-endian
 *     head      JSON: the recording without its columns, and the number of samples; spaces up to a multiple of 8
 *     columns   timeS, forceN, then each channel
 */
type Head = Omit<Recording, 'timeS' | 'forceN' | 'channels'> & {
  readonly samples: number
  readonly channels: readonly Omit<Channel, 'values'>[]
}

const PREFIX_BYTES = 4
const DOUBLE_BYTES = 8

export function recordingBlock(recording: Recording): Uint8Array {
  const { timeS, forceN, channels, ...rest } = recording
  const head: Head = {
    ...rest,
    samples: timeS.length,
    channels: channels.map(({ name, kind, unit }) => ({ name, kind, unit })),
  }
  const json = new TextEncoder().encode(JSON.stringify(head))
  const start = Math.ceil((PREFIX_BYTES + json.length) / DOUBLE_BYTES) * DOUBLE_BYTES
  const columns = [timeS, forceN, ...channels.map(channel => channel.values)]
  const block = new Uint8Array(start + columns.length * timeS.length * DOUBLE_BYTES).fill(0x20, 0, start)
  new DataView(block.buffer).setUint32(0, start - PREFIX_BYTES, true)
  block.set(json, PREFIX_BYTES)
  for (const [k, column] of columns.entries())
    block.set(
      new Uint8Array(column.buffer, column.byteOffset, column.byteLength),
      start + k * timeS.length * DOUBLE_BYTES,
    )
  return block
}

/** The recording in a block; its columns are views of the block's own memory. */
export function recordingFromBlock(buffer: ArrayBuffer): Outcome<Recording> {
  const cut = () =>
    wrong({ where: 'recording', what: 'its samples came incomplete.', cure: 'Ask for it again.' })
  if (buffer.byteLength < PREFIX_BYTES) return cut()
  const start = PREFIX_BYTES + new DataView(buffer).getUint32(0, true)
  if (start > buffer.byteLength) return cut()
  const { samples, channels, ...rest } = JSON.parse(
    new TextDecoder().decode(new Uint8Array(buffer, PREFIX_BYTES, start - PREFIX_BYTES)),
  ) as Head
  if (buffer.byteLength !== start + (2 + channels.length) * samples * DOUBLE_BYTES) return cut()
  const column = (k: number) => new Float64Array(buffer, start + k * samples * DOUBLE_BYTES, samples)
  return fine({
    ...rest,
    timeS: column(0),
    forceN: column(1),
    channels: channels.map((channel, k) => ({ ...channel, values: column(2 + k) })),
  })
}
