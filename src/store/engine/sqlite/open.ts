import Database from 'better-sqlite3'
import { Kysely } from 'kysely'
import type { Tables } from '../../schema/tables.ts'
import type { Engine } from '../engine.ts'
import { WritingSqliteDialect } from './driver.ts'
import { sqliteProblem } from './problems.ts'
import { findWords, SEARCH_INDEX_SQL } from './search.ts'

/** Waiting inside the database holds up this whole process: only for what is over in a moment. Writers wait outside. */
const BUSY_MS = 200

const COPIED_PAGES = 500

/** A connection that goes on seeing the database as it is now, and holds up no writer. */
function snapshotReader(file: string): Database.Database {
  const reader = new Database(file, { readonly: true, timeout: BUSY_MS })
  reader.exec('begin')
  // The moment is that of the first read.
  reader.prepare('select count(*) from sqlite_master').get()
  return reader
}

/**
 * SQLite with a write-ahead log: readers and one writer at the same time, from several processes of one machine.
 * `synchronous = full` syncs the log at every commit, so that what was acknowledged survives a power loss.
 * @throws the database's own error; `sqliteProblem` tells what it means
 */
export function openSqlite(file: string): Engine {
  const raw = new Database(file, { timeout: BUSY_MS })
  try {
    raw.pragma('journal_mode = wal')
    raw.pragma('synchronous = full')
    raw.pragma('foreign_keys = on')
    raw.pragma('trusted_schema = off')
  } catch (error) {
    raw.close()
    throw error
  }
  const db = new Kysely<Tables>({ dialect: new WritingSqliteDialect({ database: raw }) })
  return {
    place: file,
    db,
    bytesType: 'blob',
    writtenOnceSql: table =>
      ['update', 'delete'].map(
        verb => `create trigger ${table}_no_${verb} before ${verb} on ${table}
          begin select raise(abort, '${table} is written once'); end`,
      ),
    searchIndexSql: SEARCH_INDEX_SQL,
    findWords: (words, most) => findWords(db, words, most),
    async copyTo(path) {
      const reader = snapshotReader(file)
      try {
        // A few milliseconds at a time, so that a capture in this process goes on.
        await reader.backup(path, { progress: () => COPIED_PAGES })
      } finally {
        reader.close()
      }
    },
    async snapshot(work) {
      const reader = snapshotReader(file)
      const readDb = new Kysely<Tables>({ dialect: new WritingSqliteDialect({ database: reader }) })
      try {
        return await work(readDb)
      } finally {
        await readDb.destroy()
      }
    },
    async faults() {
      const pages = raw.pragma('integrity_check') as { integrity_check: string }[]
      const links = raw.pragma('foreign_key_check') as { table: string; rowid: number; parent: string }[]
      return [
        ...pages.map(row => row.integrity_check).filter(text => text !== 'ok'),
        ...links.map(row => `a row of ${row.table} names a ${row.parent} that is not there`),
      ]
    },
    problemOf: error => sqliteProblem(file, error),
    close: () => db.destroy(),
  }
}
