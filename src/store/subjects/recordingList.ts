import { sql } from 'kysely'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { toldCapacityN } from '../../logs/index.ts'
import type { Engine } from '../engine/engine.ts'
import { ID_PATTERN } from '../ids.ts'
import type { Page, RecordingEntry, RecordingFilter } from '../types.ts'
import { type Db, fromJson, notThere } from './common.ts'

/** Recordings with their place, specimen and study; without samples. */
export const entries = (db: Db) =>
  db
    .selectFrom('recording')
    .innerJoin('placement', 'placement.recording_id', 'recording.id')
    .leftJoin('specimen', 'specimen.id', 'placement.specimen_id')
    .leftJoin('study', 'study.id', 'specimen.study_id')
    .select([
      'recording.id',
      'recording.name',
      'recording.sha256',
      'recording.samples',
      'recording.log_bytes',
      'recording.started_at',
      'recording.added_at',
      'recording.start_s',
      'recording.end_s',
      'recording.force_unit',
      'recording.time_from',
      'recording.source',
      'recording.device',
      'recording.state',
      'placement.rig_id',
      'placement.calibration',
      'recording.calibration_id',
      'recording.log_options',
      'placement.place',
      'placement.set_aside_at',
      'placement.set_aside_why',
      'specimen.id as specimen_id',
      'specimen.name as specimen_name',
      'study.id as study_id',
      'study.name as study_name',
    ])

export type EntryRow = Awaited<ReturnType<ReturnType<typeof entries>['execute']>>[number]

export const entryOf = (row: EntryRow): RecordingEntry => ({
  id: row.id,
  name: row.name,
  sha256: row.sha256,
  samples: row.samples,
  logBytes: Number(row.log_bytes),
  startedAt: row.started_at,
  addedAt: row.added_at,
  startS: row.start_s,
  endS: row.end_s,
  forceUnit: row.force_unit === '' ? null : row.force_unit,
  timeFrom: row.time_from,
  source: row.source as RecordingEntry['source'],
  device: row.device,
  state: row.state as RecordingEntry['state'],
  rigId: row.rig_id,
  calibrationId: row.calibration_id,
  calibration: row.calibration,
  capacityN: toldCapacityN([fromJson<object>(row.log_options)]),
  study: row.study_id === null ? null : { id: row.study_id, name: row.study_name ?? '' },
  specimen: row.specimen_id === null ? null : { id: row.specimen_id, name: row.specimen_name ?? '' },
  place: row.place,
  setAside: row.set_aside_at === null ? null : { at: row.set_aside_at, why: row.set_aside_why },
})

const USUAL_LIMIT = 100
/** So few are sorted after they were found; more are met soon enough on the way through the list. */
const FEW_FOUND = 1_000

/** Newest first. */
export async function listRecordings(
  { db, findWords }: Pick<Engine, 'db' | 'findWords'>,
  filter: RecordingFilter = {},
): Promise<Page<RecordingEntry>> {
  const limit = filter.limit ?? USUAL_LIMIT
  let query = entries(db)
  if (filter.studyId !== undefined) query = query.where('specimen.study_id', '=', filter.studyId)
  if (filter.specimenId !== undefined) query = query.where('placement.specimen_id', '=', filter.specimenId)
  if (filter.loose) query = query.where('placement.specimen_id', 'is', null)
  if (!filter.withSetAside) query = query.where('placement.set_aside_at', 'is', null)
  const sought = words(filter.search)
  const few = sought.length === 0 ? null : await findWords(sought, FEW_FOUND)
  if (few?.length === 0) return { items: [], next: null }
  if (few) query = query.where('recording.id', 'in', few)
  // In the order of the list, so that a search which finds many ends with its page; sorting all that was found is slower.
  for (const word of sought) query = query.where(standsIn(word))
  const after = filter.after === undefined ? null : cursor(filter.after)
  if (after)
    query = query.where(eb =>
      eb.or([
        eb('recording.added_at', '<', after.addedAt),
        eb.and([eb('recording.added_at', '=', after.addedAt), eb('recording.id', '<', after.id)]),
      ]),
    )
  const rows = await query
    .orderBy('recording.added_at', 'desc')
    .orderBy('recording.id', 'desc')
    .limit(limit + 1)
    .execute()
  const items = rows.slice(0, limit).map(entryOf)
  const last = items.at(-1)
  return { items, next: rows.length > limit && last ? `${last.addedAt}~${last.id}` : null }
}

const words = (search = ''): string[] =>
  search
    .toLowerCase()
    .trim()
    .split(/\s+/)
    .filter(word => word !== '')
    .slice(0, 8)

/** A word in any of the fields a person would look for. */
const standsIn = (word: string) =>
  sql<boolean>`placement.search_text like ${`%${word.replace(/[\\%_]/g, '\\$&')}%`} escape '\\'`

function cursor(after: string): { addedAt: string; id: string } | null {
  const [addedAt, id] = after.split('~')
  return addedAt && id ? { addedAt, id } : null
}

/** By id, or by its first letters where only one begins so. */
export async function getEntry(db: Db, id: string): Promise<Outcome<RecordingEntry>> {
  const exact = await entries(db).where('recording.id', '=', id).executeTakeFirst()
  if (exact) return fine(entryOf(exact))
  if (!ID_PATTERN.test(id)) return notThere('recording', id)
  const begun: EntryRow[] = await entries(db).where('recording.id', 'like', `${id}%`).limit(2).execute()
  if (begun.length === 2)
    return wrong({
      where: `recording “${id}”`,
      what: 'several recordings begin so.',
      cure: 'Give more letters of the one you mean.',
    })
  return begun[0] ? fine(entryOf(begun[0])) : notThere('recording', id)
}
