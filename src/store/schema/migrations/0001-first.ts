import { type Kysely, sql } from 'kysely'
import type { Engine } from '../../engine/engine.ts'

/** Version 1: everything that a study needs, from the rig to the photo. */
export async function first(
  db: Kysely<unknown>,
  engine: Pick<Engine, 'bytesType' | 'writtenOnceSql'>,
): Promise<void> {
  const real = sql`double precision`
  const bytes = sql.raw(engine.bytesType)

  await db.schema
    .createTable('setting')
    .addColumn('name', 'text', c => c.primaryKey().notNull())
    .addColumn('value', 'text', c => c.notNull())
    .execute()

  await db.schema
    .createTable('study')
    .addColumn('id', 'text', c => c.primaryKey().notNull())
    .addColumn('name', 'text', c => c.notNull().unique())
    .addColumn('question', 'text', c => c.notNull())
    .addColumn('failure_modes', 'text', c => c.notNull())
    .addColumn('quantity', 'text', c => c.notNull())
    .addColumn('elements', 'integer')
    .addColumn('planned_per_variant', 'integer')
    .addColumn('plan', 'text')
    .addColumn('equivalents', 'text', c => c.notNull())
    .addColumn('archived', 'integer', c => c.notNull())
    .addColumn('created_at', 'text', c => c.notNull())
    .addColumn('updated_at', 'text', c => c.notNull())
    .execute()

  await db.schema
    .createTable('variant')
    .addColumn('id', 'text', c => c.primaryKey().notNull())
    .addColumn('study_id', 'text', c => c.notNull().references('study.id').onDelete('cascade'))
    .addColumn('name', 'text', c => c.notNull())
    .addColumn('place', 'integer', c => c.notNull())
    .addColumn('is_control', 'integer', c => c.notNull())
    .addColumn('elements', 'integer')
    .addColumn('note', 'text', c => c.notNull())
    .addUniqueConstraint('variant_name', ['study_id', 'name'])
    .execute()

  await db.schema
    .createTable('specimen')
    .addColumn('id', 'text', c => c.primaryKey().notNull())
    .addColumn('study_id', 'text', c => c.notNull().references('study.id').onDelete('cascade'))
    .addColumn('variant_id', 'text', c => c.references('variant.id').onDelete('set null'))
    .addColumn('name', 'text', c => c.notNull())
    .addColumn('status', 'text', c => c.notNull().check(sql`status in ('planned', 'pulled', 'left-out')`))
    .addColumn('status_reason', 'text', c => c.notNull())
    .addColumn('failure_mode', 'text')
    .addColumn('operator', 'text', c => c.notNull())
    .addColumn('batch', 'text', c => c.notNull())
    .addColumn('temperature_c', real)
    .addColumn('humidity_pct', real)
    .addColumn('width_mm', real)
    .addColumn('thickness_mm', real)
    .addColumn('length_mm', real)
    .addColumn('elements', 'integer')
    .addColumn('note', 'text', c => c.notNull())
    .addColumn('created_at', 'text', c => c.notNull())
    .addColumn('updated_at', 'text', c => c.notNull())
    .addUniqueConstraint('specimen_name', ['study_id', 'name'])
    .execute()

  await db.schema
    .createTable('rig')
    .addColumn('id', 'text', c => c.primaryKey().notNull())
    .addColumn('name', 'text', c => c.notNull().unique())
    .addColumn('document', 'text', c => c.notNull())
    .addColumn('created_at', 'text', c => c.notNull())
    .addColumn('updated_at', 'text', c => c.notNull())
    .execute()

  await db.schema
    .createTable('calibration')
    .addColumn('id', 'text', c => c.primaryKey().notNull())
    .addColumn('rig_id', 'text', c => c.references('rig.id'))
    .addColumn('made_at', 'text', c => c.notNull())
    .addColumn('document', 'text', c => c.notNull())
    .addColumn('added_at', 'text', c => c.notNull())
    .execute()

  await db.schema
    .createTable('daily_check')
    .addColumn('id', 'text', c => c.primaryKey().notNull())
    .addColumn('rig_id', 'text', c => c.references('rig.id'))
    .addColumn('calibration_id', 'text', c => c.references('calibration.id'))
    .addColumn('made_at', 'text', c => c.notNull())
    .addColumn('document', 'text', c => c.notNull())
    .addColumn('added_at', 'text', c => c.notNull())
    .execute()

  await db.schema
    .createTable('recording')
    .addColumn('id', 'text', c => c.primaryKey().notNull())
    .addColumn('name', 'text', c => c.notNull())
    .addColumn('sha256', 'text', c => c.notNull().check(sql`length(sha256) = 64`))
    .addColumn('samples_sha256', 'text', c => c.notNull().check(sql`length(samples_sha256) = 64`))
    .addColumn('samples', 'integer', c => c.notNull())
    .addColumn('log_bytes', 'bigint', c => c.notNull())
    .addColumn('started_at', 'text')
    .addColumn('added_at', 'text', c => c.notNull())
    .addColumn('start_s', real)
    .addColumn('end_s', real)
    .addColumn('force_unit', 'text', c => c.notNull())
    .addColumn('time_from', 'text', c => c.notNull())
    .addColumn('source', 'text', c => c.notNull())
    .addColumn('device', 'text', c => c.notNull())
    .addColumn('state', 'text', c => c.notNull())
    .addColumn('rig_id', 'text', c => c.references('rig.id'))
    .addColumn('calibration_id', 'text', c => c.references('calibration.id'))
    .addColumn('log_options', 'text', c => c.notNull())
    .addColumn('details', 'text', c => c.notNull())
    .execute()

  await db.schema
    .createTable('recording_log')
    .addColumn('recording_id', 'text', c => c.notNull().references('recording.id'))
    .addColumn('part', 'integer', c => c.notNull())
    .addColumn('raw_bytes', 'integer', c => c.notNull())
    .addColumn('packed', bytes, c => c.notNull())
    .addPrimaryKeyConstraint('recording_log_key', ['recording_id', 'part'])
    .execute()

  await db.schema
    .createTable('recording_samples')
    .addColumn('recording_id', 'text', c => c.notNull().references('recording.id'))
    .addColumn('series', 'integer', c => c.notNull())
    .addColumn('chunk', 'integer', c => c.notNull())
    .addColumn('samples', 'integer', c => c.notNull())
    .addColumn('crc32', 'bigint', c => c.notNull())
    .addColumn('packed', bytes, c => c.notNull())
    .addPrimaryKeyConstraint('recording_samples_key', ['recording_id', 'series', 'chunk'])
    .execute()

  await db.schema
    .createTable('placement')
    .addColumn('recording_id', 'text', c => c.primaryKey().notNull().references('recording.id'))
    .addColumn('specimen_id', 'text', c => c.references('specimen.id').onDelete('set null'))
    .addColumn('place', 'integer', c => c.notNull())
    .addColumn('set_aside_at', 'text')
    .addColumn('set_aside_why', 'text', c => c.notNull())
    .execute()

  await db.schema
    .createTable('reading')
    .addColumn('id', 'text', c => c.primaryKey().notNull())
    .addColumn('specimen_id', 'text', c => c.references('specimen.id').onDelete('cascade'))
    .addColumn('made_at', 'text', c => c.notNull())
    .addColumn('engine', 'text', c => c.notNull())
    .addColumn('adjustments', 'text', c => c.notNull())
    .addColumn('options', 'text', c => c.notNull())
    .addColumn('document', 'text', c => c.notNull())
    .addColumn('peak_status', 'text', c => c.notNull())
    .addColumn('peak_n', real)
    .addColumn('uncertainty_n', real)
    .execute()

  await db.schema
    .createTable('reading_recording')
    .addColumn('reading_id', 'text', c => c.notNull().references('reading.id').onDelete('cascade'))
    .addColumn('place', 'integer', c => c.notNull())
    .addColumn('recording_id', 'text', c => c.notNull().references('recording.id'))
    .addPrimaryKeyConstraint('reading_recording_key', ['reading_id', 'place'])
    .execute()

  await db.schema
    .createTable('note')
    .addColumn('id', 'text', c => c.primaryKey().notNull())
    .addColumn('subject_kind', 'text', c => c.notNull())
    .addColumn('subject_id', 'text', c => c.notNull())
    .addColumn('text', 'text', c => c.notNull())
    .addColumn('operator', 'text', c => c.notNull())
    .addColumn('made_at', 'text', c => c.notNull())
    .execute()

  await db.schema
    .createTable('photo')
    .addColumn('id', 'text', c => c.primaryKey().notNull())
    .addColumn('subject_kind', 'text', c => c.notNull())
    .addColumn('subject_id', 'text', c => c.notNull())
    .addColumn('name', 'text', c => c.notNull())
    .addColumn('caption', 'text', c => c.notNull())
    .addColumn('mime', 'text', c => c.notNull())
    .addColumn('sha256', 'text', c => c.notNull())
    .addColumn('bytes', bytes, c => c.notNull())
    .addColumn('added_at', 'text', c => c.notNull())
    .execute()

  const indexes: readonly [table: string, columns: string[]][] = [
    ['recording', ['sha256']],
    ['recording', ['added_at', 'id']],
    ['placement', ['specimen_id', 'place']],
    ['specimen', ['variant_id']],
    ['reading', ['specimen_id', 'made_at']],
    ['reading_recording', ['recording_id']],
    ['calibration', ['rig_id', 'made_at']],
    ['daily_check', ['rig_id', 'made_at']],
    ['note', ['subject_kind', 'subject_id']],
    ['photo', ['subject_kind', 'subject_id']],
  ]
  for (const [table, columns] of indexes)
    await db.schema
      .createIndex(`${table}_by_${columns.join('_')}`)
      .on(table)
      .columns(columns)
      .execute()

  // Named here one by one: a later version's list must not change what version 1 was.
  for (const table of ['recording', 'recording_log', 'recording_samples'])
    for (const statement of engine.writtenOnceSql(table)) await sql.raw(statement).execute(db)
}
