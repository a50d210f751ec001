import type { Selectable } from 'kysely'
import { fine, type Outcome } from '../../core/problem.ts'
import { isTyped } from '../../core/reading/typedReading.ts'
import { upgradedReading } from '../../core/reading/upgradedReading.ts'
import type { Engine } from '../engine/engine.ts'
import { newId } from '../ids.ts'
import type { Tables } from '../schema/tables.ts'
import type { Readings } from '../store.ts'
import type { StoredReading } from '../types.ts'
import { changedSince, changing, type Db, fromJson, laterThan, notThere, nowIso } from './common.ts'

/** Readings are added, never changed: the newest counts, the older ones are the history that can be gone back to. */
export const readings = ({ db }: Engine): Readings => ({
  save: ({ specimenId, recordingIds, engine, adjustments, options, reading }, basedOn) =>
    changing(db, async trx => {
      const newest = await newestOf(trx, specimenId)
      if (basedOn !== undefined && basedOn !== (newest?.id ?? null))
        return changedSince(`the reading of “${reading.specimen?.name ?? 'this specimen'}”`)
      const id = newId()
      const { peakForce } = reading.results
      await trx
        .insertInto('reading')
        .values({
          id,
          specimen_id: specimenId,
          // The newest stays the newest whatever the clock does.
          made_at: newest ? laterThan(newest.made_at) : nowIso(),
          engine,
          adjustments: JSON.stringify(adjustments),
          options: JSON.stringify(options),
          document: JSON.stringify(reading),
          peak_status: peakForce.status,
          peak_n: peakForce.valueN,
          uncertainty_n: peakForce.uncertaintyN,
        })
        .execute()
      for (const [place, recordingId] of recordingIds.entries()) {
        const there = await trx
          .selectFrom('recording')
          .select('id')
          .where('id', '=', recordingId)
          .executeTakeFirst()
        if (!there) return notThere('recording', recordingId)
        await trx
          .insertInto('reading_recording')
          .values({ reading_id: id, place, recording_id: recordingId })
          .execute()
      }
      return getReading(trx, id)
    }),
  get: id => getReading(db, id),
  async latestOfStudy(studyId) {
    const rows = await db
      .selectFrom('reading')
      .innerJoin('specimen', 'specimen.id', 'reading.specimen_id')
      .where('specimen.study_id', '=', studyId)
      .selectAll('reading')
      .select('specimen.typed_peak')
      .orderBy('reading.made_at')
      .orderBy('reading.id')
      .execute()
    // Later rows of a specimen take the place of earlier ones.
    const newest = new Map(rows.map(row => [row.specimen_id, row]))
    return (await withRecordings(db, [...newest.values()])).filter(
      one => !isTakenBack(one, newest.get(one.specimenId)?.typed_peak ?? null),
    )
  },
  async history(of) {
    const query = db
      .selectFrom('reading')
      .selectAll('reading')
      .orderBy('made_at', 'desc')
      .orderBy('id', 'desc')
    if ('specimenId' in of) {
      const rows = await query.where('specimen_id', '=', of.specimenId).execute()
      const specimen = await db
        .selectFrom('specimen')
        .select('typed_peak')
        .where('id', '=', of.specimenId)
        .executeTakeFirst()
      return (await withRecordings(db, rows)).filter(one => !isTakenBack(one, specimen?.typed_peak ?? null))
    }
    const rows = await query
      .where('id', 'in', qb =>
        qb.selectFrom('reading_recording').select('reading_id').where('recording_id', '=', of.recordingId),
      )
      .execute()
    return withRecordings(db, rows)
  },
})

/** A reading of a typed peak lives no longer than what was typed. */
const isTakenBack = ({ recordingIds, reading }: StoredReading, typedPeak: string | null): boolean =>
  recordingIds.length === 0 && typedPeak === null && isTyped(reading)

const newestOf = (db: Db, specimenId: string | null) =>
  db
    .selectFrom('reading')
    .select(['id', 'made_at'])
    .where('specimen_id', specimenId === null ? 'is' : '=', specimenId)
    .orderBy('made_at', 'desc')
    .orderBy('id', 'desc')
    .executeTakeFirst()

async function getReading(db: Db, id: string): Promise<Outcome<StoredReading>> {
  const row = await db.selectFrom('reading').selectAll().where('id', '=', id).executeTakeFirst()
  const [reading] = row ? await withRecordings(db, [row]) : []
  return reading ? fine(reading) : notThere('reading', id)
}

/** Names in one question to a database are limited in number. */
const AT_ONCE = 500

async function withRecordings(
  db: Db,
  rows: readonly Selectable<Tables['reading']>[],
): Promise<StoredReading[]> {
  const recordingIds = new Map<string, string[]>(rows.map(row => [row.id, []]))
  for (let from = 0; from < rows.length; from += AT_ONCE) {
    const ids = rows.slice(from, from + AT_ONCE).map(row => row.id)
    const links = await db
      .selectFrom('reading_recording')
      .select(['reading_id', 'recording_id'])
      .where('reading_id', 'in', ids)
      .orderBy('place')
      .execute()
    for (const link of links) recordingIds.get(link.reading_id)?.push(link.recording_id)
  }
  return rows.map(row => ({
    id: row.id,
    specimenId: row.specimen_id,
    recordingIds: recordingIds.get(row.id) ?? [],
    madeAt: row.made_at,
    engine: row.engine,
    adjustments: fromJson(row.adjustments),
    options: fromJson(row.options),
    reading: upgradedReading(fromJson(row.document)) as StoredReading['reading'],
  }))
}
