import { type Kysely, sql } from 'kysely'
import type { Engine } from '../engine/engine.ts'
import { StoreFault } from '../fault.ts'
import { first } from './migrations/0001-first.ts'
import { search } from './migrations/0002-search.ts'
import { method } from './migrations/0003-method.ts'
import { searchIndex } from './migrations/0004-search-index.ts'
import { films } from './migrations/0005-films.ts'
import { edits } from './migrations/0006-edits.ts'
import { toldFacts } from './migrations/0007-told-facts.ts'
import { chosenCalibration } from './migrations/0008-chosen-calibration.ts'

type Migration = (db: Kysely<unknown>, engine: Engine) => Promise<void>

/**
 * In order, the first making version 1. One that was released is never changed: a mistake is mended by the
 * next.
 */
const MIGRATIONS: readonly Migration[] = [
  first,
  search,
  method,
  searchIndex,
  films,
  edits,
  toldFacts,
  chosenCalibration,
]

/** The version that this program writes. */
export const SCHEMA_VERSION = MIGRATIONS.length

export interface Migrated {
  readonly from: number
  readonly to: number
}

/** The version that a database has; 0 for an empty one. */
export async function schemaVersion(engine: Engine): Promise<number> {
  const tables = await engine.db.introspection.getTables()
  if (!tables.some(table => table.name === 'schema_version')) return 0
  return await newestVersion(engine.db)
}

async function newestVersion(db: Engine['db']): Promise<number> {
  const row = await db
    .selectFrom('schema_version')
    .select(eb => eb.fn.max('version').as('version'))
    .executeTakeFirst()
  return Number(row?.version ?? 0)
}

/**
 * Brings a database to a version, each step in a transaction of its own: a step that fails leaves the version before.
 * Two programs that open an old store at once take turns; the second finds the work done.
 * `beforeChange` is called once, before an old store (not an empty one) is touched.
 * @throws StoreFault for a store that a newer program wrote
 */
export async function migrate(
  engine: Engine,
  {
    to = SCHEMA_VERSION,
    beforeChange = async () => {},
  }: { to?: number; beforeChange?: (from: number) => Promise<void> } = {},
): Promise<Migrated> {
  const from = await schemaVersion(engine)
  if (from > SCHEMA_VERSION)
    throw new StoreFault({
      where: engine.place,
      what: `a newer Tenterhook wrote this store (its version is ${from}, this program knows up to ${SCHEMA_VERSION}).`,
      cure: 'Use the newer program.',
    })
  if (from > 0 && from < to) await beforeChange(from)
  for (let version = from + 1; version <= to; version++) {
    await engine.db.transaction().execute(async trx => {
      await sql`create table if not exists schema_version (
        version integer not null primary key, applied_at text not null)`.execute(trx)
      if ((await newestVersion(trx)) >= version) return
      await MIGRATIONS[version - 1]!(trx as unknown as Kysely<unknown>, engine)
      await trx
        .insertInto('schema_version')
        .values({ version, applied_at: new Date().toISOString() })
        .execute()
    })
  }
  return { from, to: Math.max(from, to) }
}
