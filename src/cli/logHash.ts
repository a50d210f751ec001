import { createHash } from 'node:crypto'
import { existsSync, type Stats } from 'node:fs'
import type { FileHandle } from 'node:fs/promises'
import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import type { HashAsked } from './hashThread.ts'

/** The hash of a log, made while the log is read. */
export interface LogHash {
  /** Told each piece as it is read. */
  take(chunk: Uint8Array): void
  /** SHA-256 of the bytes that were taken, in hexadecimal digits; `null` where it is not known to be of these. */
  digest(): Promise<string | null>
  /** Ends it where nobody asks for the digest, and after it. */
  stop(): Promise<void>
}

/** Hashing less takes no longer than starting a thread. */
export const LONG_LOG_BYTES = 16 * 1024 * 1024
/** The thread's script beside the built command line; there is none where the sources run unbuilt. */
const BUILT_THREAD = new URL('../hashThread.js', import.meta.url)

/** Hashes the pieces themselves. */
export function hashOfPieces(): LogHash {
  const hash = createHash('sha256')
  return {
    take: chunk => {
      hash.update(chunk)
    },
    digest: async () => hash.digest('hex'),
    stop: async () => {},
  }
}

/**
 * Hashes a long file in a thread of its own, which reads it as well; a short one, and one that is read in a thread
 * already, by its pieces. The hash holds only where the file stayed as it was.
 */
export async function hashBeside(file: FileHandle, before: Stats, script = BUILT_THREAD): Promise<LogHash> {
  if (before.size < LONG_LOG_BYTES || availableParallelism() < 2 || !existsSync(fileURLToPath(script)))
    return hashOfPieces()
  const { Worker, isMainThread } = await import('node:worker_threads')
  if (!isMainThread) return hashOfPieces()
  const worker = new Worker(script, { workerData: { fd: file.fd, bytes: before.size } satisfies HashAsked })
  const answer = new Promise<string | null>(end => {
    worker.once('message', (sha256: string) => end(sha256))
    // The pieces are then read, and hashed, once more.
    worker.once('error', () => end(null))
    worker.once('exit', () => end(null))
  })
  let taken = 0
  return {
    take: chunk => {
      taken += chunk.length
    },
    digest: async () => {
      const sha256 = await answer
      const after = await file.stat()
      const same = taken === before.size && after.size === before.size && after.mtimeMs === before.mtimeMs
      return same ? sha256 : null
    },
    stop: async () => {
      await worker.terminate()
    },
  }
}
