import { type Kysely, sql } from 'kysely'

/**
 * Version 6: what people change of specimens is kept as a list that can be taken back, a specimen can be
 * removed without being lost, and the rig of a recording can be said after it was taken in (the recording
 * itself never changes).
 */
export async function edits(db: Kysely<unknown>): Promise<void> {
  await db.schema.alterTable('specimen').addColumn('removed_at', 'text').execute()
  await db.schema
    .alterTable('placement')
    .addColumn('rig_id', 'text', c => c.references('rig.id'))
    .execute()
  await sql`update placement set rig_id = (select rig_id from recording where id = placement.recording_id)`.execute(
    db,
  )
  await db.schema
    .createTable('edit')
    .addColumn('id', 'text', c => c.primaryKey().notNull())
    .addColumn('study_id', 'text', c => c.notNull().references('study.id').onDelete('cascade'))
    .addColumn('made_at', 'text', c => c.notNull())
    .addColumn('who', 'text', c => c.notNull())
    .addColumn('what', 'text', c => c.notNull())
    .addColumn('changes', 'text', c => c.notNull())
    .addColumn('taken_back_at', 'text')
    .execute()
  await db.schema
    .createIndex('edit_by_study_id_made_at')
    .on('edit')
    .columns(['study_id', 'made_at'])
    .execute()
}
