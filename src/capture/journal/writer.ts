import type { Problem } from '../../core/problem.ts'
import { diskProblem } from './diskProblem.ts'
import { type FileLayer, type GrowingFile, journalPath } from './files.ts'
import { journalHead } from './frames.ts'

/** Samples wait so long for company before they are written: with the disk's own time well within 200 ms. */
const GATHER_MS = 40
/** After a failed write. */
const RETRY_MS = 1_000
const MOST_BYTES_A_WRITE = 4 * 1024 * 1024

export interface Journal {
  readonly path: string
  /** Takes a frame at once; it reaches the disk within 200 ms. Never fails: troubles are told, the frame is kept. */
  append(frame: Uint8Array): void
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
  let inTrouble = false
  let closed = false

  const trouble = (error: unknown): void => {
    if (!inTrouble) onTrouble(diskProblem(path, error))
    inTrouble = true
  }
  const writeOut = async (): Promise<void> => {
    try {
      file ??= await files.create(path)
      while (waiting.length > 0) waiting = await appended(file, waiting)
      await file.sync()
      if (inTrouble) onTrouble(null)
      inTrouble = false
    } catch (error) {
      trouble(error)
    }
  }
  const schedule = (): void => {
    if (timer !== null || writing !== null || closed) return
    timer = setTimeout(
      () => {
        timer = null
        writing = writeOut().finally(() => {
          writing = null
          if (waiting.length > 0) schedule()
        })
      },
      inTrouble ? RETRY_MS : GATHER_MS,
    )
  }
  schedule()

  return {
    path,
    append(frame) {
      waiting.push(frame)
      schedule()
    },
    async close() {
      closed = true
      if (timer) clearTimeout(timer)
      await writing
      await writeOut()
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

function joined(frames: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(frames.reduce((n, frame) => n + frame.length, 0))
  let at = 0
  for (const frame of frames) {
    all.set(frame, at)
    at += frame.length
  }
  return all
}
