import type { Kysely } from 'kysely'

/** Version 3: a study says how it was done, and how it is told to others. */
export async function method(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .alterTable('study')
    .addColumn('method', 'text', c => c.notNull().defaultTo(''))
    .execute()
  await db.schema.alterTable('study').addColumn('tell', 'text').execute()
}
