import { readSync } from 'node:fs'
import type { FileHandle } from 'node:fs/promises'

/** What is read at once. */
const PIECE_BYTES = 1024 * 1024

/**
 * The bytes of a file up to `to`, in pieces; the next one is read while the last one is worked on, and takes its place
 * in memory afterwards. `from` is `null` for a pipe, which is read as it comes.
 */
export async function* filePieces(
  file: FileHandle,
  from: number | null,
  to: number,
): AsyncGenerator<Uint8Array> {
  const length = Math.min(PIECE_BYTES, to - (from ?? 0))
  if (length <= 0) return
  const buffers = [Buffer.allocUnsafe(length), Buffer.allocUnsafe(length)] as const
  let at = from ?? 0
  let turn: 0 | 1 = 0
  const next = () => file.read(buffers[turn], 0, Math.min(length, to - at), from === null ? null : at)
  let pending = next()
  for (;;) {
    const { bytesRead } = await pending
    if (bytesRead === 0) return
    const piece = buffers[turn].subarray(0, bytesRead)
    at += bytesRead
    turn = turn === 0 ? 1 : 0
    pending = next()
    yield piece
  }
}

/** Reads so many bytes of an open file from a place on, or as many as there are. They stand until it is asked again. */
export function bytesOf(fd: number): (from: number, length: number) => Uint8Array {
  let bytes = new Uint8Array(0)
  return (from, length) => {
    if (bytes.length < length) bytes = new Uint8Array(length)
    let read = 0
    for (;;) {
      const more = readSync(fd, bytes, read, length - read, from + read)
      read += more
      if (more === 0 || read === length) return bytes.subarray(0, read)
    }
  }
}

/** Where the first line begins at or after `from`; `null` where none is near. */
export async function lineFrom(file: FileHandle, from: number): Promise<number | null> {
  const { buffer, bytesRead } = await file.read(Buffer.allocUnsafe(LONGEST_LINE), 0, LONGEST_LINE, from - 1)
  const end = buffer.subarray(0, bytesRead).indexOf(LF)
  return end < 0 ? null : from + end
}

const LF = 10
/** A longer line is none of samples. */
const LONGEST_LINE = 4096
