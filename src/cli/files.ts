import { readFile, rename, rm, stat, writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { fine, type Outcome, type Problem, wrong } from '../core/problem.ts'

const MEANINGS: Readonly<Record<string, readonly [what: string, cure: string]>> = {
  ENOENT: ['there is no such file or folder.', 'Check the name and the folder.'],
  EACCES: ['it may not be opened.', 'Change its permissions, or choose another place.'],
  EPERM: ['it may not be opened.', 'Change its permissions, or choose another place.'],
  EISDIR: ['it is a folder, not a file.', 'Name the file itself.'],
  ENOTDIR: ['a part of the path is a file, not a folder.', 'Check the path.'],
  ENOSPC: ['the disk is full.', 'Free some space and try again; nothing that was there has been changed.'],
  EROFS: ['the disk is read-only.', 'Choose another place.'],
  EBUSY: ['another program is using it.', 'Close that program and try again.'],
  EMFILE: ['too many files are open.', 'Name fewer files at a time.'],
}

/** The system's word on a file, in ours. Rethrows what is not about a file. */
export function fileProblem(path: string, error: unknown): Problem {
  const code = (error as NodeJS.ErrnoException | null)?.code
  if (typeof code !== 'string') throw error
  const [what, cure] = MEANINGS[code] ?? [`the system says ${code}.`, 'Check the file and the disk.']
  return { where: path, what, cure }
}

export async function readBytes(path: string): Promise<Outcome<Uint8Array>> {
  try {
    return fine(await readFile(path))
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
}

/** Writes beside the file and renames, so that an old file is whole until the new one is. */
export async function writeWhole(path: string, content: string | Uint8Array): Promise<Outcome<string>> {
  // A terminal, a pipe or another device is written to, never replaced.
  const there = await stat(path).catch(() => null)
  if (there && !there.isFile() && !there.isDirectory()) {
    await writeFile(path, content)
    return fine(path)
  }
  const half = join(dirname(path), `.${process.pid}-${Date.now().toString(36)}.part`)
  try {
    await writeFile(half, content)
    await rename(half, path)
    return fine(path)
  } catch (error) {
    await rm(half, { force: true })
    return wrong(fileProblem(path, error))
  }
}
