import type { Kysely } from 'kysely'

/** Version 5: a study keeps where its recordings lie in films. */
export async function films(db: Kysely<unknown>): Promise<void> {
  await db.schema.alterTable('study').addColumn('films', 'text').execute()
}
