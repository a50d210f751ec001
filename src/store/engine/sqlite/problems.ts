import type { Problem } from '../../../core/problem.ts'

const MEANINGS: readonly (readonly [code: RegExp, what: string, cure: string])[] = [
  [/^SQLITE_FULL/, 'the disk is full; the last change was not made.', 'Free some space and try again.'],
  [
    /^SQLITE_BUSY|^SQLITE_LOCKED/,
    'another program kept the store busy for too long; the last change was not made.',
    'Wait for it to finish and try again.',
  ],
  [/^SQLITE_READONLY/, 'the store may only be read here.', 'Change the permissions of its folder and file.'],
  [/^SQLITE_CANTOPEN/, 'the store cannot be opened.', 'Check that the folder exists and may be written to.'],
  [/^SQLITE_NOTADB/, 'this file is not a store.', 'Name the folder of a store, or restore a backup.'],
  [
    /^SQLITE_CORRUPT/,
    'the store is damaged.',
    'Keep a copy of its folder, then restore the last backup with `tenterhook restore`.',
  ],
  [
    /^SQLITE_IOERR/,
    'the disk failed while reading or writing.',
    'Check the disk and its cable, then verify the store.',
  ],
  [
    /^SQLITE_CONSTRAINT_TRIGGER/,
    'a recording is never changed or deleted.',
    'Set it aside instead: it then stays out of lists and figures.',
  ],
]

/** What an error of the database means to a person; `null` where it is not the database's. */
export function sqliteProblem(place: string, error: unknown): Problem | null {
  const code = (error as { code?: unknown } | null)?.code
  if (typeof code !== 'string' || !code.startsWith('SQLITE_')) return null
  const meaning = MEANINGS.find(([pattern]) => pattern.test(code))
  return meaning ? { where: place, what: meaning[1], cure: meaning[2] } : null
}
