import { faultText, type Problem } from '../../../core/problem.ts'
import { CONSTRAINT_TRIGGER, extendedCode, RESULT, resultCode } from './resultCode.ts'

const MEANINGS: readonly (readonly [codes: readonly number[], what: string, cure: string])[] = [
  [[RESULT.full], 'the disk is full; the last change was not made.', 'Free some space and try again.'],
  [
    [RESULT.busy, RESULT.locked],
    'another program kept the store busy for too long; the last change was not made.',
    'Wait for it to finish and try again.',
  ],
  [[RESULT.readOnly], 'the store may only be read here.', 'Change the permissions of its folder and file.'],
  [[RESULT.cannotOpen], 'the store cannot be opened.', 'Check that the folder exists and may be written to.'],
  [[RESULT.notADatabase], 'this file is not a store.', 'Name the folder of a store, or restore a backup.'],
  [
    [RESULT.corrupt],
    'the store is damaged.',
    'Keep a copy of its folder, then restore the last backup with `tenterhook restore`.',
  ],
  [
    [RESULT.ioError],
    'the disk failed while reading or writing.',
    'Check the disk and its cable, then verify the store.',
  ],
  [
    [CONSTRAINT_TRIGGER],
    'a recording is never changed or deleted.',
    'Set it aside instead: it then stays out of lists and figures.',
  ],
]

/** A damaged index of words is told in words alone. */
const isDamagedPart = (error: unknown): boolean =>
  (error as { code?: unknown } | null)?.code === 'ERR_SQLITE_ERROR' &&
  /vtable constructor failed|malformed/.test(faultText(error))

/** What an error of the database means to a person; `null` where it is not the database's. */
export function sqliteProblem(place: string, error: unknown): Problem | null {
  const codes = [isDamagedPart(error) ? RESULT.corrupt : extendedCode(error), resultCode(error)]
  const meaning = MEANINGS.find(([meant]) => meant.some(code => codes.includes(code)))
  if (!meaning) return null
  const problem = { where: place, what: meaning[1], cure: meaning[2] }
  const isDamage = [RESULT.corrupt, RESULT.notADatabase].some(code => codes.includes(code))
  return isDamage ? { ...problem, code: 'store-damaged' } : problem
}
