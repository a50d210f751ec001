import { createHash } from 'node:crypto'
import { readSync } from 'node:fs'
import { parentPort, workerData } from 'node:worker_threads'

/** What the thread is asked: an open file of the process, and how many of its bytes to hash. */
export interface HashAsked {
  readonly fd: number
  readonly bytes: number
}

const CHUNK_BYTES = 1024 * 1024

/** The script of a thread that hashes one file, and answers with the hash in hexadecimal digits. */
const port = parentPort
if (!port) throw new Error('hashThread is the script of a thread')
const { fd, bytes } = workerData as HashAsked
const hash = createHash('sha256')
const chunk = Buffer.allocUnsafe(CHUNK_BYTES)
let at = 0
let got = -1
while (at < bytes && got !== 0) {
  // By place, so that the one who reads the file in turn is not disturbed.
  got = readSync(fd, chunk, 0, Math.min(CHUNK_BYTES, bytes - at), at)
  hash.update(chunk.subarray(0, got))
  at += got
}
port.postMessage(hash.digest('hex'))
