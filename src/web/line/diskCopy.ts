import { faultText, type Outcome, type Problem } from '../../core/problem.ts'
import type { ViewerMessage } from '../../server/apiTypes.ts'
import type { CopyState, DiskCopy } from '../live/lineHost.ts'
import { texts } from '../texts/index.ts'

/** From one copy to the next: no sooner than this, and never more than a tenth of the time. */
const LEAST_MS = 2_000
const REST = 10

/** What is used of a folder that a person chose (File System Access, wicg.github.io/file-system-access). */
interface Folder {
  readonly name: string
  getFileHandle(
    name: string,
    options: { create: true },
  ): Promise<{
    createWritable(): Promise<{
      write(bytes: Uint8Array<ArrayBuffer>): Promise<void>
      close(): Promise<void>
    }>
  }>
}
type Pick = (options: { mode: 'readwrite'; id: string }) => Promise<Folder>

export interface CopySource {
  /** The journal of the recording that runs, as it is at this moment. */
  running(): Promise<Outcome<{ readonly id: string; readonly log: Uint8Array }>>
  /** The log of one that has ended, whole. */
  ended(recordingId: string): Promise<Uint8Array | null>
  /** For as long as the page is open. */
  onMessage(listener: (message: ViewerMessage) => void): void
}

/**
 * Copies each recording into a folder that the person chose, as the journal that the command line takes in: every few
 * seconds while it runs, and once more when it has ended. The browser puts a copy in the place of the one before only
 * when all of it is there. `null` where it gives no folders to a page.
 */
export function diskCopy({ running, ended, onMessage }: CopySource): DiskCopy | null {
  const pick = (globalThis as { showDirectoryPicker?: Pick }).showDirectoryPicker
  if (pick === undefined) return null
  let folder: Folder | null = null
  let state: CopyState | null = null
  let isBusy = false
  const listeners = new Set<() => void>()

  const change = (next: CopyState): void => {
    state = next
    for (const listener of listeners) listener()
  }
  const copy = async (id: string, log: Uint8Array): Promise<void> => {
    if (folder === null) return
    const file = `${id}.journal`
    try {
      const stream = await (await folder.getFileHandle(file, { create: true })).createWritable()
      await stream.write(log as Uint8Array<ArrayBuffer>)
      await stream.close()
      change({ folder: folder.name, file, problem: null })
    } catch (error) {
      const problem: Problem = { where: folder.name, ...texts.pull.copy.failed(faultText(error)) }
      change({ folder: folder.name, file: state?.file ?? null, problem })
    }
  }
  const copyOn = async (): Promise<void> => {
    if (isBusy || folder === null) return
    isBusy = true
    try {
      for (;;) {
        const begunMs = performance.now()
        const now = await running()
        if (!now.ok) return
        await copy(now.value.id, now.value.log)
        const waitMs = Math.max(LEAST_MS, REST * (performance.now() - begunMs))
        await new Promise(resolve => setTimeout(resolve, waitMs))
      }
    } finally {
      isBusy = false
    }
  }
  const take = (message: ViewerMessage): void => {
    if (message.kind === 'state' && message.state.phase === 'recording') void copyOn()
    if (message.kind === 'stored')
      void ended(message.recordingId).then(log => log && copy(message.recordingId, log))
  }
  return {
    async choose() {
      const chosen = await pick.call(globalThis, { mode: 'readwrite', id: 'tenterhook' })
      if (folder === null) onMessage(take)
      folder = chosen
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
