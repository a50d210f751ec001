import { crc32 } from '../../core/crc32.ts'

/**
 * The journal's outer form, the same for every version: a first line `tenterhook journal V`, then frames. A
 * frame is the length of its body and the CRC-32 of its body (the one of zlib, RFC 1952), both as unsigned
 * 32-bit little-endian, and the body; the body's first byte tells what it is. All numbers are little-endian.
 */
const MAGIC = 'tenterhook journal '
const JOURNAL_VERSION = 2
const HEAD_BYTES = 8
/** No frame that we write comes near it; a greater length is damage. */
const MOST_BYTES = 64 * 1024 * 1024

export const KIND = { json: 1, samples: 2 } as const

export const journalHead = (): Uint8Array => new TextEncoder().encode(`${MAGIC}${JOURNAL_VERSION}\n`)

/** Sets `body`, whose first 8 bytes are left free for it, into its frame, in place. */
function sealed(frame: Uint8Array): Uint8Array {
  const view = new DataView(frame.buffer, frame.byteOffset, frame.byteLength)
  view.setUint32(0, frame.length - HEAD_BYTES, true)
  view.setUint32(4, crc32(frame.subarray(HEAD_BYTES)), true)
  return frame
}

export function jsonFrame(value: unknown): Uint8Array {
  const text = new TextEncoder().encode(JSON.stringify(value))
  const frame = new Uint8Array(HEAD_BYTES + 1 + text.length)
  frame[HEAD_BYTES] = KIND.json
  frame.set(text, HEAD_BYTES + 1)
  return sealed(frame)
}

/** Samples that one read of the line brought. Arrays have one value a sample. */
export interface SampleBlock {
  /** When the read returned, seconds on the session's clock. */
  readonly arrivedS: number
  /** Force as the line gave it, tension positive, in the unit of the columns in force. */
  readonly values: Float64Array
  /**
   * The device's own time in seconds, as given; NaN where a line had none. `null`: the line carries no times.
   */
  readonly stampS: Float64Array | null
  readonly sequence: Uint32Array | null
  /** Status bits of our line protocol. */
  readonly status: Uint8Array | null
  /** Further numeric columns, in the order of the columns in force; NaN where a cell was empty. */
  readonly channels: readonly Float64Array[]
}

const HAS = { stamps: 1, sequence: 2, status: 4 } as const
/** Kind, flags, number of channels, number of samples, arrival. */
const BLOCK_HEAD = 16

export function samplesFrame(block: SampleBlock): Uint8Array {
  const count = block.values.length
  const wide = [block.values, ...(block.stampS ? [block.stampS] : []), ...block.channels]
  const bytes = BLOCK_HEAD + count * (8 * wide.length + (block.sequence ? 4 : 0) + (block.status ? 1 : 0))
  const frame = new Uint8Array(HEAD_BYTES + bytes)
  const view = new DataView(frame.buffer)
  view.setUint8(8, KIND.samples)
  view.setUint8(
    9,
    (block.stampS ? HAS.stamps : 0) | (block.sequence ? HAS.sequence : 0) | (block.status ? HAS.status : 0),
  )
  view.setUint16(10, block.channels.length, true)
  view.setUint32(12, count, true)
  view.setFloat64(16, block.arrivedS, true)
  let at = HEAD_BYTES + BLOCK_HEAD
  const put = (array: Float64Array | Uint32Array | Uint8Array): void => {
    frame.set(new Uint8Array(array.buffer, array.byteOffset, array.byteLength), at)
    at += array.byteLength
  }
  for (const array of wide) put(array)
  if (block.sequence) put(block.sequence)
  if (block.status) put(block.status)
  return sealed(frame)
}

/** How many samples the body of a frame holds; `null` where its length does not fit what it says. */
export function samplesIn(body: Uint8Array): number | null {
  if (body.length < BLOCK_HEAD) return null
  const view = new DataView(body.buffer, body.byteOffset, body.byteLength)
  const flags = view.getUint8(1)
  const count = view.getUint32(4, true)
  const wide = 1 + view.getUint16(2, true) + (flags & HAS.stamps ? 1 : 0)
  const narrow = (flags & HAS.sequence ? 4 : 0) + (flags & HAS.status ? 1 : 0)
  return body.length === BLOCK_HEAD + count * (8 * wide + narrow) ? count : null
}

/** A block from the body of its frame, or `null` where the body's length does not fit what it says. */
export function samplesOf(body: Uint8Array): SampleBlock | null {
  const count = samplesIn(body)
  if (count === null) return null
  const view = new DataView(body.buffer, body.byteOffset, body.byteLength)
  const flags = view.getUint8(1)
  const channels = view.getUint16(2, true)
  let at = body.byteOffset + BLOCK_HEAD
  const take = (bytesEach: number): ArrayBuffer => {
    const from = at
    at += count * bytesEach
    return body.buffer.slice(from, at) as ArrayBuffer
  }
  const values = new Float64Array(take(8))
  const stampS = flags & HAS.stamps ? new Float64Array(take(8)) : null
  const others = Array.from({ length: channels }, () => new Float64Array(take(8)))
  const sequence = flags & HAS.sequence ? new Uint32Array(take(4)) : null
  const status = flags & HAS.status ? new Uint8Array(take(1)) : null
  return { arrivedS: view.getFloat64(8, true), values, stampS, sequence, status, channels: others }
}

export interface ReadFrames {
  /** 0 where the file is no journal. */
  readonly version: number
  /**
   * Sound frames, and the body of each: a view, made when it is asked for, as a day of samples has millions.
   */
  readonly count: number
  body(frame: number): Uint8Array
  /** Frames whose checksum failed although sound ones follow. */
  readonly damaged: number
  /** Bytes at the end that are no whole frame: the last write was cut short. */
  readonly tornBytes: number
}

const HEAD_LINE = /^tenterhook journal (\d{1,9})\n/
const HEAD_LINE_BYTES = 40

/** The version in a journal's first line, and where its frames begin; `null` where it is no journal. */
function headLine(bytes: Uint8Array): { version: number; length: number } | null {
  const head = new TextDecoder('latin1').decode(bytes.subarray(0, HEAD_LINE_BYTES))
  const found = HEAD_LINE.exec(head)
  return found && { version: Number(found[1]), length: found[0].length }
}

/** Every sound frame of a journal, in order. Never throws, whatever the bytes. */
export function readFrames(bytes: Uint8Array): ReadFrames {
  const found = headLine(bytes)
  if (!found)
    return { version: 0, count: 0, body: () => bytes.subarray(0, 0), damaged: 0, tornBytes: bytes.length }
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  let starts = new Float64Array(1_024)
  let count = 0
  let damaged = 0
  let at = found.length
  while (at < bytes.length) {
    const end = frameEnd(view, at)
    if (end === null) break
    if (isSound(bytes, view, at, end)) {
      if (count === starts.length) {
        const longer = new Float64Array(2 * count)
        longer.set(starts)
        starts = longer
      }
      starts[count++] = at + HEAD_BYTES
    } else {
      // A length may be damaged too: go on only where a sound frame follows.
      const next = frameEnd(view, end)
      if (next === null || !isSound(bytes, view, end, next)) break
      damaged++
    }
    at = end
  }
  const body = (frame: number): Uint8Array => {
    const from = starts[frame]!
    return bytes.subarray(from, from + view.getUint32(from - HEAD_BYTES, true))
  }
  return { version: found.version, count, body, damaged, tornBytes: bytes.length - at }
}

function frameEnd(view: DataView, at: number): number | null {
  if (at + HEAD_BYTES > view.byteLength) return null
  const length = view.getUint32(at, true)
  const end = at + HEAD_BYTES + length
  return length === 0 || length > MOST_BYTES || end > view.byteLength ? null : end
}

const isSound = (bytes: Uint8Array, view: DataView, at: number, end: number): boolean =>
  crc32(bytes.subarray(at + HEAD_BYTES, end)) === view.getUint32(at + 4, true)

/** What `framesIn` tells beside the bodies. */
export interface FramesTold {
  version: number
  damaged: number
  tornBytes: number
}

/**
 * The bodies that `readFrames` finds, from a journal that comes in pieces: no more of it is in memory than a
 * piece and a frame. A body is good until the next one is asked for.
 */
export async function* framesIn(
  pieces: AsyncIterable<Uint8Array>,
  told: FramesTold,
): AsyncGenerator<Uint8Array> {
  let bytes = new Uint8Array(0)
  let at = 0
  let isBegun = false
  const more = pieces[Symbol.asyncIterator]()
  /** Puts another piece behind what is left; false where there is none. */
  const fill = async (): Promise<boolean> => {
    const next = await more.next()
    if (next.done) return false
    bytes = joined([bytes.subarray(at), next.value])
    at = 0
    return true
  }
  try {
    for (;;) {
      if (!isBegun) {
        while (bytes.length < HEAD_LINE_BYTES && (await fill()));
        const found = headLine(bytes)
        told.version = found?.version ?? 0
        if (!found) {
          told.tornBytes = bytes.length
          return
        }
        at = found.length
        isBegun = true
      }
      const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
      const end = frameEnd(view, at)
      if (end === null) {
        if (!isTooLong(view, at) && (await fill())) continue
        break
      }
      if (isSound(bytes, view, at, end)) yield bytes.subarray(at + HEAD_BYTES, end)
      else {
        const next = frameEnd(view, end)
        if (next === null && !isTooLong(view, end) && (await fill())) continue
        if (next === null || !isSound(bytes, view, end, next)) break
        told.damaged++
      }
      at = end
    }
    told.tornBytes = bytes.length - at
    for (let next = await more.next(); !next.done; next = await more.next())
      told.tornBytes += next.value.length
  } finally {
    await more.return?.(undefined)
  }
}

/** Whether what stands where a frame begins can be none, however much follows. */
function isTooLong(view: DataView, at: number): boolean {
  if (at + HEAD_BYTES > view.byteLength) return false
  const length = view.getUint32(at, true)
  return length === 0 || length > MOST_BYTES
}

/** Bytes that come in pieces, whole. */
export async function allOf(pieces: AsyncIterable<Uint8Array>): Promise<Uint8Array<ArrayBuffer>> {
  const all: Uint8Array[] = []
  for await (const piece of pieces) all.push(piece)
  return joined(all)
}

export function joined(frames: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const all = new Uint8Array(frames.reduce((n, frame) => n + frame.length, 0))
  let at = 0
  for (const frame of frames) {
    all.set(frame, at)
    at += frame.length
  }
  return all
}
