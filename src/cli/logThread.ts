import { readSync } from 'node:fs'
import { parentPort } from 'node:worker_threads'
import { readSharedRows, type SharedRows } from '../logs/table/sharedRows.ts'
import { bytesOf } from './filePieces.ts'

/** What the thread is asked of an open file of the process: to read rows together with the one who asks, or for the hash of the first so many bytes. */
export type LogQuestion =
  | { readonly ask: 'rows'; readonly fd: number; readonly rows: SharedRows }
  | { readonly ask: 'hash'; readonly fd: number; readonly bytes: number }

/** What it answers; the hash in hexadecimal digits. */
export type LogAnswer = { readonly answer: 'rows' } | { readonly answer: 'hash'; readonly sha256: string }

const CHUNK_BYTES = 1024 * 1024

/** The script of a thread that works on a long log while another one reads it: one question after the other. */
const port = parentPort
if (!port) throw new Error('logThread is the script of a thread')

async function hashOf(fd: number, length: number): Promise<string> {
  const { createHash } = await import('node:crypto')
  const hash = createHash('sha256')
  const chunk = Buffer.allocUnsafe(CHUNK_BYTES)
  let at = 0
  while (at < length) {
    const read = readSync(fd, chunk, 0, Math.min(CHUNK_BYTES, length - at), at)
    if (read === 0) break
    hash.update(chunk.subarray(0, read))
    at += read
  }
  return hash.digest('hex')
}

async function answer(question: LogQuestion): Promise<LogAnswer> {
  if (question.ask === 'hash') return { answer: 'hash', sha256: await hashOf(question.fd, question.bytes) }
  readSharedRows(question.rows, bytesOf(question.fd))
  return { answer: 'rows' }
}

let answered: Promise<void> = Promise.resolve()
port.on('message', (question: LogQuestion) => {
  answered = answered.then(async () => port.postMessage(await answer(question)))
})
