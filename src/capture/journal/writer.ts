import type { Problem } from '../../core/problem.ts'
import { diskProblem } from './diskProblem.ts'
import { type FileLayer, type GrowingFile, journalPath } from './files.ts'
import { journalHead } from './frames.ts'

/** Samples wait so long for company before they are handed to the system, where a killed program cannot lose them. */
const GATHER_MS = 4
/** From the start of one sync to the start of the next: with the disk's own time well within 200 ms, and kind to it. */
const SYNC_EVERY_MS = 50
/** After a failed write. */
const RETRY_MS = 1_000
const MOST_BYTES_A_WRITE = 4 * 1024 * 1024

export interface Journal {
  readonly path: string
  /** Resolves once the file is there, or could not be made at the first try. */
  readonly begun: Promise<void>
  /** Takes a frame at once; it reaches the disk within 200 ms. Never fails: troubles are told, the frame is kept. */
  append(frame: Uint8Array): void
  /** All that was taken up to this call, from the disk and from what waits for it; writing goes on. */
  kept(): Promise<Uint8Array>
  /** Writes what is left, if the disk takes it, and closes. Gives the bytes that never reached the disk. */
  close(): Promise<Uint8Array>
}

export interface JournalOptions {
  readonly files: FileLayer
  readonly folder: string
  readonly id: string
  readonly header: Uint8Array
  /** Told once when the disk refuses, and with `null` once it takes everything again. */
  readonly onTrouble: (problem: Problem | null) => void
}

/** Starts a journal at once; its file is made behind the scenes, and made again if that fails. */
export function startJournal({ files, folder, id, header, onTrouble }: JournalOptions): Journal {
  const path = journalPath(folder, id)
  let file: GrowingFile | null = null
  let waiting: Uint8Array[] = [journalHead(), header]
  let timer: NodeJS.Timeout | null = null
  let writing: Promise<void> | null = null
  let syncing: Promise<void> | null = null
  let syncTimer: NodeJS.Timeout | null = null
  let syncBegunMs = Number.NEGATIVE_INFINITY
  let syncDue = false
  let syncFailed = false
  let inTrouble = false
  /** Whether all that waited was written since the disk last refused. */
  let isCaughtUp = false
  let closed = false
  let takenBytes = bytesOf(waiting)

  const trouble = (error: unknown): void => {
    if (!inTrouble) onTrouble(diskProblem(path, error))
    inTrouble = true
  }
  const writeOut = async (): Promise<void> => {
    try {
      file ??= await files.create(path)
      // Under a heavy load there is always more to write: what has been written is synced meanwhile.
      while (waiting.length > 0) {
        waiting = await appended(file, waiting)
        syncDue = true
        startSync()
      }
      isCaughtUp = true
    } catch (error) {
      isCaughtUp = false
      trouble(error)
    }
  }
  /** Syncs all that was written before. Runs beside the writing: what a slow disk holds up is at least with the system. */
  const syncOut = async (open: GrowingFile): Promise<void> => {
    try {
      syncBegunMs = performance.now()
      syncDue = false
      const wasCaughtUp = isCaughtUp
      await open.sync()
      syncFailed = false
      if (inTrouble && wasCaughtUp && isCaughtUp) {
        inTrouble = false
        onTrouble(null)
      }
    } catch (error) {
      syncDue = true
      syncFailed = true
      trouble(error)
    }
  }
  const startSync = (): void => {
    if (syncing !== null || syncTimer !== null || !syncDue || file === null || closed) return
    const open = file
    syncTimer = setTimeout(
      () => {
        syncTimer = null
        syncing = syncOut(open).finally(() => {
          syncing = null
          startSync()
        })
      },
      Math.max(0, (syncFailed ? RETRY_MS : SYNC_EVERY_MS) - (performance.now() - syncBegunMs)),
    )
  }
  const schedule = (): void => {
    if (timer !== null || writing !== null || closed) return
    timer = setTimeout(
      () => {
        timer = null
        writing = writeOut().finally(() => {
          writing = null
          startSync()
          if (waiting.length > 0) schedule()
        })
      },
      inTrouble ? RETRY_MS : GATHER_MS,
    )
  }
  // The file is made at once, so that it is there before the first sample comes.
  const begun = writeOut()
  writing = begun.finally(() => {
    writing = null
    startSync()
    if (waiting.length > 0) schedule()
  })

  return {
    path,
    begun,
    append(frame) {
      waiting.push(frame)
      takenBytes += frame.length
      schedule()
    },
    async kept() {
      // What is written while the file is read stands in both.
      const unwritten = [...waiting]
      const written = takenBytes - bytesOf(unwritten)
      const onDisk = written === 0 ? new Uint8Array(0) : await files.read(path)
      return joined([onDisk.subarray(0, written), ...unwritten])
    },
    async close() {
      closed = true
      if (timer) clearTimeout(timer)
      if (syncTimer) clearTimeout(syncTimer)
      await writing
      await syncing
      await writeOut()
      if (file !== null) await syncOut(file)
      await file?.close().catch(trouble)
      return joined(waiting)
    },
  }
}

/** Hands the first of `waiting` to the file; gives what is left. What is appended meanwhile stays behind it. */
async function appended(file: GrowingFile, waiting: Uint8Array[]): Promise<Uint8Array[]> {
  let frames = 0
  let bytes = 0
  while (frames < waiting.length && (frames === 0 || bytes < MOST_BYTES_A_WRITE))
    bytes += waiting[frames++]!.length
  const chunk = joined(waiting.slice(0, frames))
  const taken = await file.append(chunk)
  const rest = waiting.slice(frames)
  return taken < chunk.length ? [chunk.subarray(taken), ...rest] : rest
}

const bytesOf = (frames: readonly Uint8Array[]): number => frames.reduce((n, frame) => n + frame.length, 0)

export function joined(frames: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(bytesOf(frames))
  let at = 0
  for (const frame of frames) {
    all.set(frame, at)
    at += frame.length
  }
  return all
}
