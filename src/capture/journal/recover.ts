import { join } from 'node:path'
import type { Problem } from '../../core/problem.ts'
import { capturedFrom } from '../captured.ts'
import type { Captured } from '../types.ts'
import { diskProblem } from './diskProblem.ts'
import { journalContents } from './entries.ts'
import { diskFiles, type FileLayer } from './files.ts'

/** A journal whose process lives and that was written to so recently is in use. */
const IN_USE_MS = 60_000

export interface Recovered {
  readonly captured: readonly Captured[]
  /** Journals that another running process writes. */
  readonly inUse: readonly string[]
  /** Journals that hold no sample, or cannot be read; they are left where they are, out of the way, as `.unreadable`. */
  readonly problems: readonly Problem[]
}

/**
 * Makes a recording of every journal left behind in a folder: by a crash, a power cut, a kill. The last write may be
 * torn; it is left out. Nothing is removed: the caller stores each recording, then discards its journal.
 * `mine` are the journals that this process itself is writing.
 */
export async function recoverJournals(
  folder: string,
  { files = diskFiles, mine = [] }: { files?: FileLayer; mine?: readonly string[] } = {},
): Promise<Recovered> {
  const captured: Captured[] = []
  const inUse: string[] = []
  const problems: Problem[] = []
  try {
    for (const name of [...(await files.list(folder))].sort()) {
      if (!name.endsWith('.journal')) continue
      const path = join(folder, name)
      if (mine.includes(path)) {
        inUse.push(path)
        continue
      }
      try {
        const log = await files.read(path)
        const writer = journalContents(log)?.header.pid
        if (writer !== undefined && isRunning(writer) && (await files.ageMs(path)) < IN_USE_MS) {
          inUse.push(path)
          continue
        }
        const found = capturedFrom(log, path, 'recovered')
        if (found.ok) captured.push(found.value)
        else {
          problems.push(...found.problems)
          await files.rename(path, `${path}.unreadable`)
        }
      } catch (error) {
        problems.push(diskProblem(path, error))
      }
    }
  } catch (error) {
    problems.push(diskProblem(folder, error))
  }
  return { captured, inUse, problems }
}

/** Removes a journal whose recording has been stored. */
export const discardJournal = (path: string, files: FileLayer = diskFiles): Promise<void> =>
  files.remove(path)

function isRunning(pid: number): boolean {
  if (pid === process.pid) return false
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    // It is there, but belongs to another user.
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}
