import type { Kysely } from 'kysely'
import type { Problem } from '../../core/problem.ts'
import type { Tables } from '../schema/tables.ts'

/**
 * All that differs from one database to another. Everything else in the store is written once, in the SQL
 * builder's words, and knows no engine. A second engine is a folder beside `sqlite/` with the same promises.
 */
export interface Engine {
  /** For people: a path, or an address without its password. */
  readonly place: string
  /**
   * The SQL builder. A transaction takes the right to write from its start, waits for another writer, and is
   * durable (power loss included) when its promise is fulfilled.
   */
  readonly db: Kysely<Tables>
  /** Column type for bytes. */
  readonly bytesType: 'blob' | 'bytea'
  /** Statements that make the schema itself refuse to change or delete the rows of a table. */
  writtenOnceSql(table: string): readonly string[]
  /** Statements that make an index over `placement.search_text`, fill it, and keep it up to date. */
  readonly searchIndexSql: readonly string[]
  /**
   * By that index, the ids of recordings whose text holds all these words (small letters). `null` where more
   * than `most` do, or where the index is of no use for them: the list itself is then looked through.
   */
  findWords(words: readonly string[], most: number): Promise<readonly string[] | null>
  /** Writes a copy of the whole database, as of one moment, while others go on reading and writing. */
  copyTo(path: string): Promise<void>
  /** Reads the database as of one moment, however long it takes, while others go on reading and writing. */
  snapshot<T>(work: (db: Kysely<Tables>) => Promise<T>): Promise<T>
  /** What the database finds wrong with its own pages and references; empty when sound. */
  faults(): Promise<readonly string[]>
  /** The problem that an error of the database stands for, or `null` for a fault of ours. */
  problemOf(error: unknown): Problem | null
  close(): Promise<void>
}
