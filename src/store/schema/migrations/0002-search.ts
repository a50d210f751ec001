import { type Kysely, sql } from 'kysely'

/**
 * Version 2: what a recording is looked up by stands in one column, so that a search of 20,000 stays quick.
 */
export async function search(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .alterTable('placement')
    .addColumn('search_text', 'text', c => c.notNull().defaultTo(''))
    .execute()
  const { rows } = await sql<{ id: string; words: string }>`
    select r.id, r.name || ' ' || r.device || ' ' || coalesce(s.name, '') || ' ' || coalesce(t.name, '') || ' ' || r.id
      || ' ' || r.sha256 as words
    from recording r join placement p on p.recording_id = r.id
      left join specimen s on s.id = p.specimen_id left join study t on t.id = s.study_id`.execute(db)
  for (const { id, words } of rows)
    await sql`update placement set search_text = ${words.toLowerCase()} where recording_id = ${id}`.execute(
      db,
    )
}
