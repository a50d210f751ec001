import { createHash } from 'node:crypto'
import { open } from 'node:fs/promises'
import { basename } from 'node:path'
import { type Outcome, wrong } from '../core/problem.ts'
import type { Recording } from '../core/recording.ts'
import { type LogOptions, openLog } from '../logs/index.ts'
import { fileProblem } from './files.ts'

const MOST_CHUNK_BYTES = 1024 * 1024

export interface OpenLogOptions {
  readonly log?: LogOptions
  /** Told after each chunk; both in bytes. */
  readonly onProgress?: (readBytes: number, totalBytes: number) => void
}

/**
 * One log from a file, with the hash of its bytes. Reads the next chunk while the last one is parsed.
 * Whatever is wrong with the file or its text comes back as problems.
 */
export async function openLogFile(
  path: string,
  { log = {}, onProgress }: OpenLogOptions = {},
): Promise<Outcome<Recording>> {
  const name = basename(path)
  const hash = createHash('sha256')
  try {
    const file = await open(path, 'r')
    try {
      const { size } = await file.stat()
      const reader = openLog(name, log, size)
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
        hash.update(chunk)
        reader.push(chunk)
        readBytes += bytesRead
        onProgress?.(readBytes, size)
      }
      const outcome = reader.finish()
      return outcome.ok ? { ok: true, value: withHash(outcome.value, hash.digest('hex')) } : outcome
    } finally {
      await file.close()
    }
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
}

const withHash = (recording: Recording, sha256: string): Recording => ({
  ...recording,
  sha256,
  segments: recording.segments.map(segment => ({ ...segment, sha256 })),
})
