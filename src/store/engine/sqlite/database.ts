import { resolve } from 'node:path'
import { backup, DatabaseSync, type DatabaseSyncInstance } from '@photostructure/sqlite'
import type { SqliteDatabase } from 'kysely'

/** One connection to a database file, with the interface of Node's own `node:sqlite`. */
export type Connection = DatabaseSyncInstance

/** Memory for pages, as SQLite counts it (negative: KiB); its own default makes a long list slow. */
const CACHE = -16_000

const COPIED_PAGES = 500

/**
 * Opens a database file, made where there is none. Waiting for others, at most `busyMs`, holds up this whole
 * process.
 */
export function connect(
  file: string,
  { busyMs, readOnly = false }: { busyMs: number; readOnly?: boolean },
): Connection {
  const connection = new DatabaseSync(file, { timeout: busyMs, readOnly })
  try {
    connection.exec(`pragma cache_size = ${CACHE}`)
    return connection
  } catch (error) {
    connection.close()
    throw error
  }
}

/**
 * Copies what a connection sees, a few pages at a time in a thread of its own: a capture in this process goes
 * on.
 */
export async function copyPages(connection: Connection, path: string): Promise<void> {
  // Absolute: a name that begins with `file:` would be taken for an address.
  await backup(connection, resolve(path), { rate: COPIED_PAGES })
}

/** A text would be cut at this letter without a word. */
const NUL = '\0'
const SHOWN_NUL = '␀'

const bound = (value: unknown): unknown =>
  typeof value === 'string' && value.includes(NUL) ? value.replaceAll(NUL, SHOWN_NUL) : value

/**
 * A connection as the SQL builder wants it. An integer beyond 2^53 is an error when it is read, never a
 * rounded number.
 */
export const forBuilder = (connection: Connection): SqliteDatabase => ({
  close: () => connection.close(),
  prepare(sql) {
    const statement = connection.prepare(sql)
    return {
      reader: statement.columns().length > 0,
      all: values => statement.all(...values.map(bound)),
      run: values => statement.run(...values.map(bound)),
      iterate: values => statement.iterate(...values.map(bound)),
    }
  },
})
