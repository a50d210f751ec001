import { open } from 'node:fs/promises'
import { basename } from 'node:path'
import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { Recording } from '../core/recording.ts'
import { withHash } from '../core/withHash.ts'
import { type LogOptions, openLog } from '../logs/index.ts'
import { fileProblem } from './files.ts'
import { hashBeside, hashOfPieces, type LogHash } from './logHash.ts'

const MOST_CHUNK_BYTES = 1024 * 1024

export interface OpenLogOptions {
  readonly log?: LogOptions
  /** Told after each chunk; both in bytes. */
  readonly onProgress?: (readBytes: number, totalBytes: number) => void
  /** The thread that hashes a long log; for tests. */
  readonly hashScript?: URL
}

/**
 * One log from a file, with the hash of its bytes. Whatever is wrong with the file or its text comes back as problems.
 */
export async function openLogFile(path: string, options: OpenLogOptions = {}): Promise<Outcome<Recording>> {
  let makeHash: typeof hashBeside = hashBeside
  try {
    for (;;) {
      const opened = await openOnce(path, options, makeHash)
      if (opened) return opened
      // It changed while it was read: once more, and what is taken is what is hashed.
      makeHash = async () => hashOfPieces()
    }
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
}

/** Reads the next chunk while the last one is parsed; `null` where the hash is not of the bytes that were read. */
async function openOnce(
  path: string,
  { log = {}, onProgress, hashScript }: OpenLogOptions,
  makeHash: typeof hashBeside,
): Promise<Outcome<Recording> | null> {
  const file = await open(path, 'r')
  let hash: LogHash | null = null
  try {
    const before = await file.stat()
    const { size } = before
    hash = await makeHash(file, before, hashScript)
    const reader = openLog(basename(path), log, size)
    // A pipe has no size; a log that is still written grows beyond it.
    const chunkBytes = size > 0 ? Math.min(MOST_CHUNK_BYTES, size + 1) : MOST_CHUNK_BYTES
    const buffers = [Buffer.allocUnsafe(chunkBytes), Buffer.allocUnsafe(chunkBytes)] as const
    let turn: 0 | 1 = 0
    let readBytes = 0
    let pending = file.read(buffers[turn], 0, chunkBytes, null)
    for (;;) {
      const { bytesRead } = await pending
      if (bytesRead === 0) break
      const chunk = buffers[turn].subarray(0, bytesRead)
      turn = turn === 0 ? 1 : 0
      pending = file.read(buffers[turn], 0, chunkBytes, null)
      hash.take(chunk)
      reader.push(chunk)
      readBytes += bytesRead
      onProgress?.(readBytes, size)
    }
    const outcome = reader.finish()
    if (!outcome.ok) return outcome
    const sha256 = await hash.digest()
    return sha256 === null ? null : fine(withHash(outcome.value, sha256))
  } finally {
    // The thread reads the same file.
    await hash?.stop()
    await file.close()
  }
}
