import type { Problem } from './problem.ts'

const MEANINGS: Readonly<Record<string, readonly [what: string, cure: string]>> = {
  ENOENT: ['there is no such file or folder.', 'Check the name and the folder.'],
  EACCES: ['it may not be opened.', 'Change its permissions, or choose another place.'],
  EPERM: ['it may not be opened.', 'Change its permissions, or choose another place.'],
  EISDIR: ['it is a folder, not a file.', 'Name the file itself.'],
  ENOTDIR: ['a part of the path is a file, not a folder.', 'Check the path.'],
  ENOSPC: ['the disk is full.', 'Free some space and try again; nothing that was there has been changed.'],
  EROFS: ['the disk is read-only.', 'Choose another place.'],
  EBUSY: ['another program is using it.', 'Close that program and try again.'],
  ENAMETOOLONG: ['its name is longer than the system allows.', 'Choose a shorter name.'],
  EMFILE: ['too many files are open.', 'Name fewer files at a time.'],
}

/** What the same words of the system mean where a file was to be written. */
const WRITING: typeof MEANINGS = {
  ENOENT: ['its folder is not there.', 'Make the folder, or choose another place.'],
  EACCES: ['it may not be written.', 'Change the permissions of the folder, or choose another place.'],
  EPERM: ['it may not be written.', 'Change the permissions of the folder, or choose another place.'],
}

/** The system's word on a file, in ours. Rethrows what is not about a file. */
export function fileProblem(path: string, error: unknown, doing: 'reading' | 'writing' = 'reading'): Problem {
  const code = (error as { code?: unknown } | null)?.code
  if (typeof code !== 'string') throw error
  const [what, cure] = (doing === 'writing' ? WRITING[code] : undefined) ??
    MEANINGS[code] ?? [`the system says ${code}.`, 'Check the file and the disk.']
  return { where: path, what, cure }
}
