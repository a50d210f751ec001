import type { Problem } from '../../core/problem.ts'
import type { FileLayer } from './files.ts'

/** For every disk that refuses in the middle of a recording. */
export const KEPT = 'What was written so far stays, and capture goes on in memory.'

const MEANINGS: Readonly<Record<string, readonly [what: string, cure: string]>> = {
  ENOSPC: [
    `the disk is full. ${KEPT}`,
    'Free some space: writing is tried again every second. Do not switch off before it has caught up.',
  ],
  EDQUOT: [
    `your share of the disk is used up. ${KEPT}`,
    'Free some space: writing is tried again every second. Do not switch off before it has caught up.',
  ],
  EFBIG: [
    `the file has reached the size that the system allows. ${KEPT}`,
    'Finish the recording before switching off, and raise the limit for file sizes.',
  ],
  EROFS: ['the disk is read-only.', 'Choose another folder for the store with --store.'],
  EACCES: ['the folder may not be written to.', 'Change its permissions, or choose another with --store.'],
  EPERM: ['the folder may not be written to.', 'Change its permissions, or choose another with --store.'],
  ENOTDIR: ['a part of the path is a file, not a folder.', 'Choose another folder with --store.'],
  EEXIST: [
    'a file stands where a folder is needed, or a journal of this name is there already.',
    'Move it away.',
  ],
  EIO: [`the disk reports an error. ${KEPT}`, 'Finish the recording and copy the store to another disk.'],
  ESHRUNK: [
    `the journal has become shorter than what was written to it. ${KEPT}`,
    'Put the disk back that it was on, or choose another folder for the recording.',
  ],
  EMFILE: ['too many files are open.', 'Close other programs and try again.'],
}

/** The system's word on the journal's file, in ours. Rethrows what is no word of the system. */
export function diskProblem(path: string, error: unknown, { words }: Pick<FileLayer, 'words'>): Problem {
  const code = (error as { code?: unknown } | null)?.code
  if (typeof code !== 'string') throw error
  const [what, cure] = (words?.meanings ?? MEANINGS)[code] ?? [
    `the system says ${code}.`,
    'Check the disk and the folder.',
  ]
  return { where: path, what, cure }
}
