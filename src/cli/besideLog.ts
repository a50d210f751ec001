import { existsSync, type Stats, statSync } from 'node:fs'
import type { FileHandle } from 'node:fs/promises'
import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import type { SharedRows } from '../logs/index.ts'
import type { LogAnswer, LogQuestion } from './logThread.ts'

/** A thread beside the one that reads a long log. It does what it is asked in turn, and answers `null` where it fails. */
export interface BesideLog {
  /** Takes part in reading rows of plain numbers; resolves when it no longer does. */
  share(rows: SharedRows): Promise<void>
  /** SHA-256 of the first `bytes` bytes, in hexadecimal digits. */
  hash(bytes: number): Promise<string | null>
  /** Ends it; resolves when it no longer reads the file. */
  stop(): Promise<void>
}

/** Reading less takes no longer than starting a thread. */
export const LONG_LOG_BYTES = 16 * 1024 * 1024
/** The thread's script beside the built command line; there is none where the sources run unbuilt. */
const BUILT_THREAD = new URL('../logThread.js', import.meta.url)

/** A thread that was started before its log is opened. */
let ready: Promise<OpenBeside | null> | null = null

/** What a thread that has been started does for an open file. */
type OpenBeside = (fd: number) => BesideLog

/** Starts the thread for the first long one of these logs, while the program is still loading what reads it. */
export function readyThread(paths: readonly string[]): void {
  if (paths.some(isLongFile)) ready ??= startThread(BUILT_THREAD)
}

function isLongFile(path: string): boolean {
  try {
    return statSync(path).size >= LONG_LOG_BYTES
  } catch {
    return false // Whoever opens it meets the same and tells it.
  }
}

/** Starts the thread for a long log; `null` for a short one, and for one that is read in a thread already. */
export async function startBeside(
  file: FileHandle,
  { size }: Stats,
  script = BUILT_THREAD,
): Promise<BesideLog | null> {
  if (size < LONG_LOG_BYTES) return null
  const open = await (ready ?? startThread(script))
  ready = null
  return open?.(file.fd) ?? null
}

async function startThread(script: URL): Promise<OpenBeside | null> {
  if (availableParallelism() < 2 || !existsSync(fileURLToPath(script))) return null
  const { Worker, isMainThread } = await import('node:worker_threads')
  if (!isMainThread) return null
  const worker = new Worker(script)
  const waiting: ((answer: LogAnswer | null) => void)[] = []
  let ended = false
  const end = (): void => {
    ended = true
    for (const tell of waiting.splice(0)) tell(null)
  }
  worker.on('message', (answer: LogAnswer) => waiting.shift()?.(answer))
  worker.once('error', end)
  worker.once('exit', end)
  // As long as nothing is asked of it, it does not keep the process from ending.
  worker.unref()
  const asked = (question: LogQuestion): Promise<LogAnswer | null> =>
    new Promise(tell => {
      if (ended) tell(null)
      else {
        waiting.push(tell)
        worker.postMessage(question)
      }
    })
  return fd => {
    worker.ref()
    return {
      async share(rows) {
        await asked({ ask: 'rows', fd, rows })
      },
      async hash(bytes) {
        const told = await asked({ ask: 'hash', fd, bytes })
        return told?.answer === 'hash' ? told.sha256 : null
      },
      async stop() {
        const stopped = worker.terminate()
        // One that is done with the file may end while the caller goes on.
        if (waiting.length > 0) await stopped
      },
    }
  }
}
