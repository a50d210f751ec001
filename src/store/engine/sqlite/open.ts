import { Kysely } from 'kysely'
import type { Tables } from '../../schema/tables.ts'
import type { Engine } from '../engine.ts'
import { type Connection, connect, copyPages, forBuilder } from './database.ts'
import { BUSY_MS, WritingSqliteDialect } from './driver.ts'
import { sqliteProblem } from './problems.ts'
import { findWords, SEARCH_INDEX_SQL } from './search.ts'
import { strangeKinds } from './strangeKinds.ts'

/** A connection that goes on seeing the database as it is now, and holds up no writer. */
function snapshotReader(file: string): Connection {
  const reader = connect(file, { readOnly: true, busyMs: BUSY_MS })
  // The moment is that of the first read.
  reader.exec('begin; select count(*) from sqlite_master')
  return reader
}

/**
 * SQLite with a write-ahead log: readers and one writer at the same time, from several processes of one machine.
 * `synchronous = full` syncs the log at every commit, so that what was acknowledged survives a power loss.
 * @throws the database's own error; `sqliteProblem` tells what it means
 */
export function openSqlite(file: string): Engine {
  const raw = connect(file, { busyMs: BUSY_MS })
  try {
    raw.exec('pragma journal_mode = wal')
    raw.exec('pragma synchronous = full')
    raw.exec('pragma foreign_keys = on')
    raw.exec('pragma trusted_schema = off')
  } catch (error) {
    raw.close()
    throw error
  }
  const db = new Kysely<Tables>({ dialect: new WritingSqliteDialect({ database: forBuilder(raw) }) })
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
        await copyPages(reader, path)
      } finally {
        reader.close()
      }
    },
    async snapshot(work) {
      const reader = snapshotReader(file)
      const readDb = new Kysely<Tables>({
        dialect: new WritingSqliteDialect({ database: forBuilder(reader) }),
      })
      try {
        return await work(readDb)
      } finally {
        await readDb.destroy()
      }
    },
    async faults() {
      const pages = raw.prepare('pragma integrity_check').all() as { integrity_check: string }[]
      const links = raw.prepare('pragma foreign_key_check').all() as { table: string; parent: string }[]
      return [
        ...pages.map(row => row.integrity_check).filter(text => text !== 'ok'),
        ...links.map(row => `a row of ${row.table} names a ${row.parent} that is not there`),
        ...strangeKinds(raw),
      ]
    },
    problemOf: error => sqliteProblem(file, error),
    close: () => db.destroy(),
  }
}
