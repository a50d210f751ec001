import { createHash } from 'node:crypto'
import type { Stats } from 'node:fs'
import { type FileHandle, open } from 'node:fs/promises'
import { basename } from 'node:path'
import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { Recording } from '../core/recording.ts'
import { withHash } from '../core/withHash.ts'
import { HEAD_BYTES, type LogOptions, type LogReader, openLog, type PlainBlock } from '../logs/index.ts'
import { type BesideLog, startBeside } from './besideLog.ts'
import { filePieces, lineFrom } from './filePieces.ts'
import { fileProblem } from './files.ts'

export interface OpenLogOptions {
  readonly log?: LogOptions
  /** Told after each piece; both in bytes. */
  readonly onProgress?: (readBytes: number, totalBytes: number) => void
  /** The script of the thread that works on a long log; for tests. */
  readonly threadScript?: URL
}

/**
 * One log from a file, with the hash of its bytes. Whatever is wrong with the file or its text comes back as problems.
 */
export async function openLogFile(path: string, options: OpenLogOptions = {}): Promise<Outcome<Recording>> {
  let start: typeof startBeside = startBeside
  try {
    for (;;) {
      const opened = await openOnce(path, options, start)
      if (opened) return opened
      // It changed while two read it: once more by one alone, and what is taken is what is hashed.
      start = async () => null
    }
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
}

/** The log from the file as it stands; `null` where the hash is not of the bytes that were read. */
async function openOnce(
  path: string,
  { log = {}, onProgress, threadScript }: OpenLogOptions,
  start: typeof startBeside,
): Promise<Outcome<Recording> | null> {
  const file = await open(path, 'r')
  let beside: BesideLog | null = null
  try {
    const before = await file.stat()
    const { size } = before
    beside = await start(file, before, threadScript)
    const ownHash = beside ? null : createHash('sha256')
    const reader = openLog(basename(path), log, size, beside ? 'shared' : 'own')
    let at = 0
    const takeTo = async (to: number): Promise<void> => {
      for await (const piece of filePieces(file, before.isFile() ? at : null, to)) {
        ownHash?.update(piece)
        reader.push(piece)
        at += piece.length
        onProgress?.(at, size)
      }
    }
    let hashed: Promise<string | null> | null = null
    if (beside) {
      await takeTo(HEAD_BYTES + 1)
      const second = await askSecondHalf(file, { at, size }, reader, beside)
      hashed = beside.hash(size)
      if (second) {
        await takeTo(second.from)
        const block = await second.block
        if (block && reader.takeBlock(block)) at += block.bytes
      }
    }
    await takeTo(Number.POSITIVE_INFINITY)
    const outcome = reader.finish()
    if (!outcome.ok) return outcome
    const sha256 = ownHash ? ownHash.digest('hex') : await hashed
    if (sha256 === null || (beside && !(at === size && (await isAsBefore(file, before))))) return null
    return fine(withHash(outcome.value, sha256))
  } finally {
    // The thread reads the same file.
    await beside?.stop()
    await file.close()
  }
}

interface SecondHalf {
  /** The byte that its first line begins with. */
  readonly from: number
  readonly block: Promise<PlainBlock | null>
}

/** Has the thread read the rows of the second half; `null` where the log is not all rows of plain numbers. */
async function askSecondHalf(
  file: FileHandle,
  { at, size }: { readonly at: number; readonly size: number },
  reader: LogReader,
  beside: BesideLog,
): Promise<SecondHalf | null> {
  const from = await lineFrom(file, Math.floor(size / 2))
  const room = from === null ? null : reader.roomBehind(from - at)
  return from !== null && room ? { from, block: beside.block(from, size, room) } : null
}

/** Whether nothing was written to the file since. */
async function isAsBefore(file: FileHandle, before: Stats): Promise<boolean> {
  const now = await file.stat()
  return now.size === before.size && now.mtimeMs === before.mtimeMs
}
