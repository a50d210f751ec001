import type { Stats } from 'node:fs'
import { type FileHandle, open } from 'node:fs/promises'
import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { Recording } from '../core/recording.ts'
import { withHash } from '../core/withHash.ts'
import {
  HEAD_BYTES,
  type LogOptions,
  MOST_PARTED_BYTES,
  openLog,
  readLog,
  readSharedRows,
  sharedEnd,
} from '../logs/index.ts'
import { type BesideLog, startBeside } from './besideLog.ts'
import { bytesOf, filePieces, lineFrom } from './filePieces.ts'
import { bytesOfShort, fileProblem, nameOfInput, pathOfInput } from './files.ts'

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
  const opened = await withLogFile(path, options, recording => recording)
  return opened.ok ? fine(withHash(opened.value.made, opened.value.sha256)) : opened
}

/** What was made of a log, and the SHA-256 of its bytes. */
export interface MadeOfLog<T> {
  readonly made: T
  readonly sha256: string
}

/**
 * Makes something of a log while another thread hashes its bytes, where it is long: `work` is given a recording without
 * a hash, and once more where the file changed meanwhile; the last time counts. Problems as from `openLogFile`.
 */
export async function withLogFile<T>(
  path: string,
  options: OpenLogOptions,
  work: (recording: Recording) => T,
): Promise<Outcome<MadeOfLog<T>>> {
  let start: typeof startBeside = startBeside
  try {
    for (;;) {
      const opened = await workOnce(path, options, work, start)
      if (opened) return opened.ok ? opened : ((await asTables(path, options, work)) ?? opened)
      // It changed while two read it: once more by one alone, and what is taken is what is hashed.
      start = async () => null
    }
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
}

/** A file that is no one table may hold several that name their columns otherwise; `null` where it does not. */
async function asTables<T>(
  path: string,
  { log = {} }: OpenLogOptions,
  work: (recording: Recording) => T,
): Promise<Outcome<MadeOfLog<T>> | null> {
  const bytes = await bytesOfShort(path, MOST_PARTED_BYTES)
  const recording = bytes && readLog(bytes, nameOfInput(path), log)
  if (!bytes || !recording?.ok) return null
  const { createHash } = await import('node:crypto')
  return fine({
    made: work(recording.value),
    sha256: createHash('sha256').update(bytes).digest('hex'),
  })
}

/** Of the file as it stands; `null` where the hash is not of the bytes that were read. */
async function workOnce<T>(
  path: string,
  { log = {}, onProgress, threadScript }: OpenLogOptions,
  work: (recording: Recording) => T,
  start: typeof startBeside,
): Promise<Outcome<MadeOfLog<T>> | null> {
  const file = await open(await pathOfInput(path), 'r')
  let beside: BesideLog | null = null
  try {
    const before = await file.stat()
    const { size } = before
    beside = await start(file, before, threadScript)
    // Loaded only where it is needed: the hash of a long log is made by the thread beside.
    const ownHash = beside ? null : (await import('node:crypto')).createHash('sha256')
    const reader = openLog(nameOfInput(path), log, size, beside ? 'shared' : 'own')
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
      const line = await lineFrom(file, at)
      if (line !== null) await takeTo(line)
      const rows = reader.shareRows(at, size)
      const shared = rows && beside.share(rows)
      hashed = beside.hash(size)
      if (rows) {
        const bytesAt = bytesOf(file.fd)
        readSharedRows(rows, bytesAt, done => onProgress?.(done, size))
        await shared
        const end = sharedEnd(rows)
        const tailFrom = Math.max(at, end.at - TAIL_BYTES)
        reader.takeShared(end, bytesAt(tailFrom, end.at - tailFrom))
        at = end.at
      }
    }
    await takeTo(Number.POSITIVE_INFINITY)
    const outcome = reader.finish()
    if (!outcome.ok) return outcome
    const made = work(outcome.value)
    const sha256 = ownHash ? ownHash.digest('hex') : await hashed
    if (!sha256 || (beside && !(at === size && (await isAsBefore(file, before))))) return null
    return fine({ made, sha256 })
  } finally {
    // The thread reads the same file.
    await beside?.stop()
    await file.close()
  }
}

/** As many bytes of the last rows as tell how a last line looks. */
const TAIL_BYTES = 4096

/** Whether nothing was written to the file since. */
async function isAsBefore(file: FileHandle, before: Stats): Promise<boolean> {
  const now = await file.stat()
  return now.size === before.size && now.mtimeMs === before.mtimeMs
}
