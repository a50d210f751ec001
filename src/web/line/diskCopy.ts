import { faultText, type Problem } from '../../core/problem.ts'
import type { ViewerMessage } from '../../server/apiTypes.ts'
import type { CopyState, DiskCopy } from '../live/lineHost.ts'
import { texts } from '../texts/index.ts'

/** From one copy to the next: no sooner than this, and never more than a fifth of the time. */
const LEAST_MS = 1_000
const REST = 5

/** What is used of a folder that a person chose (File System Access, wicg.github.io/file-system-access). */
interface Folder {
  readonly name: string
  getFileHandle(
    name: string,
    options: { create: true },
  ): Promise<{
    createWritable(options: { keepExistingData: boolean }): Promise<{
      write(part: { type: 'write'; position: number; data: Uint8Array<ArrayBuffer> }): Promise<void>
      close(): Promise<void>
      abort(): Promise<void>
    }>
  }>
}
type Pick = (options: { mode: 'readwrite'; id: string }) => Promise<Folder>

/** Bytes that follow those before them, and where they end. */
type Growth = AsyncIterable<{ readonly bytes: Uint8Array<ArrayBuffer>; readonly end: number }>

export interface CopySource {
  /** The recording that runs; `null` where none does. */
  running(): Promise<string | null>
  /** Its journal from a place on, as far as the browser has it on the disk. */
  journal(recordingId: string, from: number): Growth
  /** The log of one that has ended, from a place on: the same bytes. */
  ended(recordingId: string, from: number): Growth
  /** For as long as the page is open. */
  onMessage(listener: (message: ViewerMessage) => void): void
}

/**
 * Copies each recording into a folder that the person chose, as the journal that the command line takes in: every second
 * while it runs, and once more when it has ended. Only what came since is handed over; the browser puts the longer file in
 * the place of the one before when all of it is there. `null` where it gives no folders to a page.
 */
export function diskCopy({ running, journal, ended, onMessage }: CopySource): DiskCopy | null {
  const pick = (globalThis as { showDirectoryPicker?: Pick }).showDirectoryPicker
  if (pick === undefined) return null
  let folder: Folder | null = null
  let state: CopyState | null = null
  let isBusy = false
  /** Bytes that are in the file of a recording. */
  const copied = new Map<string, number>()
  /** One after the other: two of one file would undo each other. */
  let turn: Promise<void> = Promise.resolve()
  const listeners = new Set<() => void>()

  const change = (next: CopyState): void => {
    state = next
    for (const listener of listeners) listener()
  }
  const copyNow = async (id: string, growth: (from: number) => Growth): Promise<void> => {
    if (folder === null) return
    const file = `${id}.journal`
    const from = copied.get(id) ?? 0
    try {
      const handle = await folder.getFileHandle(file, { create: true })
      const stream = await handle.createWritable({ keepExistingData: from > 0 })
      let end = from
      try {
        for await (const part of growth(from)) {
          await stream.write({ type: 'write', position: end, data: part.bytes })
          end = part.end
        }
      } catch (error) {
        await stream.abort().catch(() => {})
        throw error
      }
      await stream.close()
      copied.set(id, end)
      change({ folder: folder.name, file, problem: null })
    } catch (error) {
      // Whatever is there now: the next one begins anew.
      copied.delete(id)
      const problem: Problem = { where: folder.name, ...texts.pull.copy.failed(faultText(error)) }
      change({ folder: folder.name, file: state?.file ?? null, problem })
    }
  }
  const copy = (id: string, growth: (from: number) => Growth): Promise<void> => {
    turn = turn.then(() => copyNow(id, growth))
    return turn
  }
  const copyOn = async (): Promise<void> => {
    if (isBusy || folder === null) return
    isBusy = true
    try {
      for (;;) {
        const begunMs = performance.now()
        const id = await running()
        if (id === null) return
        await copy(id, from => journal(id, from))
        const waitMs = Math.max(LEAST_MS, REST * (performance.now() - begunMs))
        await new Promise(resolve => setTimeout(resolve, waitMs))
      }
    } finally {
      isBusy = false
    }
  }
  const take = (message: ViewerMessage): void => {
    if (message.kind === 'state' && message.state.phase === 'recording') void copyOn()
    if (message.kind !== 'stored' || message.keptIn !== 'store') return
    const { recordingId } = message
    void copy(recordingId, from => ended(recordingId, from)).then(() => copied.delete(recordingId))
  }
  return {
    async choose() {
      const chosen = await pick.call(globalThis, { mode: 'readwrite', id: 'tenterhook' })
      if (folder === null) onMessage(take)
      folder = chosen
      copied.clear()
      change({ folder: folder.name, file: null, problem: null })
      void copyOn()
    },
    get state() {
      return state
    },
    onState(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  }
}
