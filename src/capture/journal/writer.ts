import type { Problem } from '../../core/problem.ts'
import { letExit } from '../letExit.ts'
import { diskProblem } from './diskProblem.ts'
import { type FileLayer, type GrowingFile, journalPath } from './files.ts'
import { allOf, joined, journalHead } from './frames.ts'
import { opened, released } from './openHere.ts'
import { type JournalSoFar, piecesSoFar } from './soFar.ts'

/**
 * Samples wait so long for company before they are handed to the system, where a killed program cannot lose
 * them.
 */
const GATHER_MS = 4
/**
 * From the start of one sync to the start of the next: with the disk's own time well within 200 ms, and kind
 * to it.
 */
const SYNC_EVERY_MS = 50
/**
 * A line that is silent, or a disk that is full: other programs must see that the journal is in use all the
 * same.
 */
const TOUCH_MS = 5_000
/** After a failed write. */
const RETRY_MS = 1_000
const MOST_BYTES_A_WRITE = 4 * 1024 * 1024

/** What a disk can do without opening the file anew: it goes on where it stopped. */
const FULL = new Set(['ENOSPC', 'EDQUOT', 'EFBIG'])

export interface Journal {
  readonly path: string
  /** Resolves once the file is there, or could not be made at the first try. */
  readonly begun: Promise<void>
  /** Bytes taken that the disk does not have for certain: they are in memory too. */
  readonly heldBytes: number
  /** Why the disk does not take them; `null` while it does. */
  readonly trouble: Problem | null
  /**
   * Takes a frame at once; it reaches the disk within 200 ms. Never fails: troubles are told, the frame is
   * kept.
   */
  append(frame: Uint8Array): void
  /** All that was taken up to this call, from the disk and from memory; writing goes on. */
  kept(): Promise<Uint8Array>
  /** The same in pieces. */
  pieces(): AsyncIterable<Uint8Array>
  /** The same as where it is to be found. */
  soFar(): JournalSoFar
  /** Writes and syncs all that was taken, once; why the disk did not take it, else `null`. */
  flush(): Promise<Problem | null>
  /**
   * Nothing more is appended. Tries once, as `flush`; where the disk refuses it is tried again every second
   * until all is on it, and only then closed.
   */
  end(): Promise<Problem | null>
  /** Fulfilled once the journal has ended and all of it is on the disk. */
  readonly onDisk: Promise<void>
  /** Writes all of it into another folder and goes on there; why that could not be, else `null`. */
  moveTo(folder: string): Promise<Problem | null>
  /** Closes it as it is, and tries no more: what the disk has not got by then is given up. */
  leave(): Promise<void>
  /** Closes and removes it: the recording is kept elsewhere for good. */
  discard(): Promise<void>
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
  let path = journalPath(folder, id)
  let file: GrowingFile | null = null
  /** Not yet handed to the system, in order. */
  let waiting: Uint8Array[] = [journalHead(), header]
  /** Handed to the system, not known to be on the disk: a sync that fails may have lost them there. */
  let handed: Uint8Array[] = []
  let syncedBytes = 0
  let timer: ReturnType<typeof setTimeout> | null = null
  let writing: Promise<void> | null = null
  let syncing: Promise<void> | null = null
  let syncTimer: ReturnType<typeof setTimeout> | null = null
  let syncBegunMs = Number.NEGATIVE_INFINITY
  /** The file is opened anew, and written again from what the disk has for certain. */
  let openAnew = false
  let trouble: Problem | null = null
  let stands: 'open' | 'ended' | 'closed' = 'open'
  let takenBytes = bytesOf(waiting)
  let tellOnDisk: () => void = () => {}
  const onDisk = new Promise<void>(resolve => {
    tellOnDisk = resolve
  })
  opened(path)
  const touching = setInterval(() => void file?.touch().catch(() => {}), TOUCH_MS)
  letExit(touching)

  const refuse = (error: unknown): void => {
    const problem = diskProblem(path, error, files)
    const isNew = trouble === null
    trouble = problem
    if (isNew) onTrouble(problem)
  }
  const isSynced = (): boolean => syncedBytes === takenBytes

  async function reopen(): Promise<GrowingFile> {
    if (file !== null && !openAnew) return file
    // What it has synced by then is not written again.
    await syncing
    await file?.close().catch(() => {})
    file = null
    waiting = [...handed, ...waiting]
    handed = []
    file = await files.create(path, syncedBytes)
    openAnew = false
    return file
  }
  async function writeOut(): Promise<void> {
    try {
      // Under a heavy load there is always more to write: what has been written is synced meanwhile.
      do {
        const open = await reopen()
        if (waiting.length === 0) return
        const { chunk, frames } = firstOf(waiting)
        const taken = await open.append(chunk)
        handed.push(chunk.subarray(0, taken))
        const later = waiting.slice(frames)
        waiting = taken < chunk.length ? [chunk.subarray(taken), ...later] : later
        startSync()
      } while (waiting.length > 0)
    } catch (error) {
      if (!FULL.has(String((error as { code?: unknown } | null)?.code))) openAnew = true
      refuse(error)
    }
  }
  /**
   * Syncs all that was written before. Runs beside the writing: what a slow disk holds up is at least with
   * the system.
   */
  async function syncOut(): Promise<void> {
    const open = file
    if (open === null || openAnew || handed.length === 0) return
    const chunks = handed.length
    try {
      syncBegunMs = performance.now()
      await open.sync()
      syncedBytes += bytesOf(handed.splice(0, chunks))
      if (trouble !== null && isSynced()) {
        trouble = null
        onTrouble(null)
      }
    } catch (error) {
      // The system may have thrown away what it could not sync: it is all written again.
      openAnew = true
      refuse(error)
    }
  }
  function startSync(): void {
    if (syncing !== null || syncTimer !== null || handed.length === 0 || openAnew || stands === 'closed')
      return
    syncTimer = setTimeout(
      () => {
        syncTimer = null
        syncing = syncOut().finally(() => {
          syncing = null
          goOn()
        })
      },
      Math.max(0, SYNC_EVERY_MS - (performance.now() - syncBegunMs)),
    )
  }
  function schedule(): void {
    if (timer !== null || writing !== null || stands === 'closed') return
    timer = setTimeout(
      () => {
        timer = null
        writing = writeOut().finally(() => {
          writing = null
          goOn()
        })
      },
      trouble === null ? GATHER_MS : RETRY_MS,
    )
  }
  /** After a write or a sync: what is still to be done. */
  function goOn(): void {
    if (waiting.length > 0 || openAnew) schedule()
    startSync()
    if (stands === 'ended' && isSynced() && writing === null && syncing === null) void close()
  }
  function stopTimers(): void {
    if (timer) clearTimeout(timer)
    if (syncTimer) clearTimeout(syncTimer)
    timer = syncTimer = null
  }
  /** Waits for what is under way, and lets nothing else begin meanwhile. */
  async function settled(): Promise<void> {
    for (;;) {
      stopTimers()
      if (writing === null && syncing === null) return
      await writing
      await syncing
    }
  }
  async function close(): Promise<void> {
    if (stands === 'closed') return
    stands = 'closed'
    clearInterval(touching)
    stopTimers()
    const open = file
    file = null
    await open?.close().catch(() => {})
    if (isSynced()) tellOnDisk()
  }
  async function flush(): Promise<Problem | null> {
    await settled()
    if (stands === 'closed') return trouble
    writing = writeOut().finally(() => {
      writing = null
    })
    await writing
    await settled()
    syncing = syncOut().finally(() => {
      syncing = null
    })
    await syncing
    if (isSynced()) return null
    goOn()
    return trouble
  }

  /** All that was taken by now: what was written, from the disk, and what is held. */
  const piecesNow = (): AsyncGenerator<Uint8Array> => piecesSoFar(files, soFar())
  function soFar(): JournalSoFar {
    const held = joined([...handed, ...waiting])
    return { path, writtenBytes: takenBytes - held.length, held }
  }

  // The file is made at once, so that it is there before the first sample comes.
  const begun = writeOut()
  writing = begun.finally(() => {
    writing = null
    goOn()
  })

  return {
    get path() {
      return path
    },
    begun,
    onDisk,
    get heldBytes() {
      return takenBytes - syncedBytes
    },
    get trouble() {
      return trouble
    },
    append(frame) {
      waiting.push(frame)
      takenBytes += frame.length
      schedule()
    },
    kept: () => allOf(piecesNow()),
    pieces: piecesNow,
    soFar,
    flush,
    async end() {
      if (stands === 'closed') return trouble
      stands = 'ended'
      const problem = await flush()
      if (isSynced()) await close()
      return problem
    },
    async moveTo(next) {
      const nextPath = journalPath(next, id)
      if (nextPath === path) return flush()
      await settled()
      let fresh: GrowingFile | null = null
      // Nothing else writes while this one does.
      let done: () => void = () => {}
      writing = new Promise(resolve => {
        done = resolve
      })
      try {
        const held = handed.length + waiting.length
        const all = piecesNow()
        const upTo = takenBytes
        await files.makeFolder(next)
        fresh = await files.create(nextPath, 0)
        for await (const piece of all)
          for (let at = 0; at < piece.length; ) at += await fresh.append(piece.subarray(at))
        await fresh.sync()
        const old = path
        await file?.close().catch(() => {})
        released(old)
        opened(nextPath)
        path = nextPath
        file = fresh
        syncedBytes = upTo
        waiting = waiting.slice(held - handed.length)
        handed = []
        openAnew = false
        if (trouble !== null && isSynced()) {
          trouble = null
          onTrouble(null)
        }
        await files.remove(old).catch(() => {})
        return null
      } catch (error) {
        await fresh?.close().catch(() => {})
        await files.remove(nextPath).catch(() => {})
        return diskProblem(nextPath, error, files)
      } finally {
        writing = null
        done()
        goOn()
      }
    },
    async leave() {
      await flush()
      await close()
      released(path)
    },
    async discard() {
      await settled()
      syncedBytes = takenBytes
      waiting = []
      handed = []
      await close()
      released(path)
      await files.remove(path)
    },
  }
}

/** As many of the first frames as one write may take, in one piece, and how many they are. */
function firstOf(waiting: readonly Uint8Array[]): { chunk: Uint8Array; frames: number } {
  let frames = 0
  let bytes = 0
  while (frames < waiting.length && (frames === 0 || bytes < MOST_BYTES_A_WRITE))
    bytes += waiting[frames++]!.length
  return { chunk: joined(waiting.slice(0, frames)), frames }
}

const bytesOf = (frames: readonly Uint8Array[]): number => frames.reduce((n, frame) => n + frame.length, 0)
