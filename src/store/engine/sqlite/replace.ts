import { rename, rm, stat } from 'node:fs/promises'
import { fine, type Outcome, wrong } from '../../../core/problem.ts'
import { type Connection, connect } from './database.ts'
import { RESULT, resultCode } from './resultCode.ts'

/**
 * Puts `fresh` in the place of the database `file`, which is kept as `keptAs`. Refused while another program
 * has the database open; a damaged one, which nobody can have in use, is moved away as it is.
 */
export async function replaceSqlite(
  file: string,
  fresh: string,
  keptAs: string,
): Promise<Outcome<{ kept: string | null }>> {
  const there = await stat(file).catch(() => null)
  if (there) {
    if (!fold(file))
      return wrong({
        where: file,
        what: 'another program has the store open.',
        cure: 'Stop it (a running `tenterhook start` or `record`), then restore again.',
      })
    for (const tail of ['', '-wal', '-shm'])
      if (await stat(file + tail).catch(() => null)) await rename(file + tail, keptAs + tail)
  }
  await rename(fresh, file)
  for (const tail of ['-wal', '-shm']) await rm(fresh + tail, { force: true })
  return fine({ kept: there ? keptAs : null })
}

/**
 * Folds the log of changes into the file, which needs it for oneself alone. `false` where another has it
 * open.
 */
function fold(file: string): boolean {
  let raw: Connection | null = null
  try {
    raw = connect(file, { busyMs: 1_000 })
    raw.exec('pragma journal_mode = delete')
    return true
  } catch (error) {
    const code = resultCode(error)
    return code !== null && code !== RESULT.busy && code !== RESULT.locked
  } finally {
    raw?.close()
  }
}
