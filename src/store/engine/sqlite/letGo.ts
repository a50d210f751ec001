import { setImmediate as nextTurn } from 'node:timers/promises'
import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'

let collect: (() => void) | null = null

/**
 * Lets go of all prepared statements that nobody holds any more. The SQLite package frees a statement only
 * when it is collected as garbage, and a connection that is closed before that stays half open: its log of
 * changes is left beside the database, other programs find the store in use, and Windows lets nobody rename
 * or delete the file.
 */
export async function letGoOfStatements(): Promise<void> {
  if (!collect) {
    // The function that collects is there only in contexts made after the flag was set.
    setFlagsFromString('--expose-gc')
    collect = runInNewContext('gc') as () => void
  }
  collect()
  // What the package does for collected objects runs in a turn of its own.
  await nextTurn()
}
