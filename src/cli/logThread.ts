import { createHash } from 'node:crypto'
import { readSync } from 'node:fs'
import { parentPort, workerData } from 'node:worker_threads'
import { type PlainBlock, type PlainRoom, readPlainBlock } from '../logs/table/plainBlock.ts'

/** What the thread works on: an open file of the process. */
export interface LogThreadData {
  readonly fd: number
}

/** What it is asked: the rows that stand from one byte on up to another, or the hash of the first so many bytes. */
export type LogQuestion =
  | { readonly ask: 'block'; readonly from: number; readonly to: number; readonly room: PlainRoom }
  | { readonly ask: 'hash'; readonly bytes: number }

/** What it answers; the hash in hexadecimal digits. */
export type LogAnswer =
  | { readonly answer: 'block'; readonly block: PlainBlock }
  | { readonly answer: 'hash'; readonly sha256: string }

const CHUNK_BYTES = 1024 * 1024

/** The script of a thread that works on a long log while another one reads it: one question after the other. */
const port = parentPort
if (!port) throw new Error('logThread is the script of a thread')
const { fd } = workerData as LogThreadData
const chunk = Buffer.allocUnsafe(CHUNK_BYTES)

/** Some bytes of the file up to `to`. By place, so that the one who reads the file in turn is not disturbed. */
const bytesAt = (place: number, to: number): Uint8Array =>
  chunk.subarray(0, readSync(fd, chunk, 0, Math.min(CHUNK_BYTES, to - place), place))

function hashOf(length: number): string {
  const hash = createHash('sha256')
  let at = 0
  for (let bytes = bytesAt(0, length); bytes.length > 0; bytes = bytesAt(at, length)) {
    hash.update(bytes)
    at += bytes.length
  }
  return hash.digest('hex')
}

port.on('message', (question: LogQuestion) => {
  if (question.ask === 'hash') {
    port.postMessage({ answer: 'hash', sha256: hashOf(question.bytes) } satisfies LogAnswer)
    return
  }
  const { from, to, room } = question
  const block = readPlainBlock(room, place => bytesAt(from + place, to))
  port.postMessage({ answer: 'block', block } satisfies LogAnswer)
})
