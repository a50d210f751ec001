import { type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { capturedIn } from '../captured.ts'
import type { Computer } from '../computer.ts'
import type { CapturedFacts, CapturedLong, CapturedWhole } from '../types.ts'
import { diskProblem } from './diskProblem.ts'
import { journalContents } from './entries.ts'
import { type FileLayer, inFolder, piecesOf } from './files.ts'
import { joined } from './frames.ts'

/** The header is the first frame; with a rig and its calibrations it is some kilobytes. */
const HEADER_BYTES = 1024 * 1024

export interface JournalsThere {
  readonly inUse: readonly string[]
  /** Left behind by a program that is gone. */
  readonly left: readonly string[]
  readonly problems: readonly Problem[]
}

/** The journals in a folder, by whether a running process writes them. Their samples are not looked at. */
export async function journalsIn(folder: string, { files, isInUse }: Computer): Promise<JournalsThere> {
  const inUse: string[] = []
  const left: string[] = []
  const problems: Problem[] = []
  try {
    for (const name of [...(await files.list(folder))].sort()) {
      if (!name.endsWith('.journal')) continue
      const path = inFolder(folder, name)
      try {
        const header = journalContents(await files.read(path, HEADER_BYTES))?.header
        const isWritten = header !== undefined && (await isInUse(path, header, await files.ageMs(path)))
        ;(isWritten ? inUse : left).push(path)
      } catch (error) {
        // Taken in by another program in this moment.
        if ((error as { code?: unknown }).code !== 'ENOENT') problems.push(diskProblem(path, error, files))
      }
    }
  } catch (error) {
    problems.push(diskProblem(folder, error, files))
  }
  return { inUse, left, problems }
}

/** Why the journal may not be taken in now: a running program writes it; else `null`. */
export async function journalInUse(path: string, { files, isInUse }: Computer): Promise<Problem | null> {
  try {
    const header = journalContents(await files.read(path, HEADER_BYTES))?.header
    if (!header || !(await isInUse(path, header, await files.ageMs(path)))) return null
    if (await hasEnded(path, files)) return null
  } catch (error) {
    return diskProblem(path, error, files)
  }
  return {
    where: path,
    what: 'a program is writing this journal now.',
    cure: 'Finish that recording first: it is then stored by itself.',
  }
}

/** The last entry of a recording that was ended is far shorter. */
const TAIL_BYTES = 16 * 1024

/** Whether its recording was ended: then it is written no more, however young it is. */
async function hasEnded(path: string, files: FileLayer): Promise<boolean> {
  let tail = new Uint8Array(0)
  for await (const piece of piecesOf(files, path))
    tail = joined([tail, piece.subarray(-TAIL_BYTES)]).slice(-TAIL_BYTES)
  const text = new TextDecoder().decode(tail)
  const at = text.lastIndexOf('{"what":"end"')
  try {
    return at >= 0 && (JSON.parse(text.slice(at)) as { what: unknown }).what === 'end'
  } catch {
    // Something comes after it, or it is cut short.
    return false
  }
}

/** The recording in a journal that nobody writes. The file stays. */
export async function openJournal(
  path: string,
  how: CapturedFacts['how'],
  files: FileLayer,
): Promise<Outcome<CapturedWhole | CapturedLong>> {
  try {
    return await capturedIn(() => piecesOf(files, path), path, how)
  } catch (error) {
    return wrong(diskProblem(path, error, files))
  }
}

/**
 * Moves a journal that holds nothing to be taken in out of the way, as `.unreadable`: nothing is thrown away.
 */
export const putAside = (path: string, files: FileLayer): Promise<void> =>
  files.rename(path, `${path}.unreadable`)

/** Removes a journal whose recording is stored. */
export const discardJournal = (path: string, files: FileLayer): Promise<void> => files.remove(path)
