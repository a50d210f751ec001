import { type Kysely, sql } from 'kysely'
import type { Engine } from '../../engine/engine.ts'

/**
 * Version 4: an index over what recordings are looked up by, so that finding one or none among many is as
 * quick as finding many.
 */
export async function searchIndex(db: Kysely<unknown>, engine: Engine): Promise<void> {
  for (const statement of engine.searchIndexSql) await sql.raw(statement).execute(db)
}
