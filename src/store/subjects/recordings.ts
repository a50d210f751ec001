import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Recording } from '../../core/recording.ts'
import type { Engine } from '../engine/engine.ts'
import { StoreFault } from '../fault.ts'
import { unpackChunk, unpackLogPart } from '../pack/recording.ts'
import type { Recordings } from '../store.ts'
import { changing, type Db, fromJson, notThere, nowIso } from './common.ts'
import { entries, entryOf, getEntry, listRecordings } from './recordingList.ts'
import { type Details, saveLong, saveRecording } from './saveRecording.ts'
import { refreshSearch } from './searchText.ts'
import { getSpecimen } from './specimens.ts'

export const recordings = ({ db, place, findWords }: Engine): Recordings => ({
  list: filter => listRecordings({ db, findWords }, filter),
  get: id => getEntry(db, id),
  async bySha256(sha256) {
    const rows = await entries(db)
      .where('recording.sha256', '=', sha256)
      .orderBy('recording.added_at')
      .execute()
    return rows.map(entryOf)
  },
  save: added => saveRecording(db, added),
  saveLong: added => saveLong(db, added),
  load: id => loadRecording(db, id),
  log: id => readLog(db, id, place),
  async logOptions(id) {
    const row = await db.selectFrom('recording').select('log_options').where('id', '=', id).executeTakeFirst()
    return row ? fine(fromJson<object>(row.log_options)) : notThere('recording', id)
  },
  place: (id, specimenId, at) =>
    changing(db, async trx => {
      const entry = await getEntry(trx, id)
      if (!entry.ok) return entry
      if (specimenId !== null) {
        const specimen = await getSpecimen(trx, specimenId)
        if (!specimen.ok) return specimen
      }
      await trx
        .updateTable('placement')
        .set({ specimen_id: specimenId, place: 0 })
        .where('recording_id', '=', entry.value.id)
        .execute()
      if (specimenId !== null) await putAt(trx, specimenId, entry.value.id, at)
      await refreshSearch(trx, { recordingId: entry.value.id })
      return getEntry(trx, entry.value.id)
    }),
  setAside: (id, why) => setAside(db, id, { set_aside_at: nowIso(), set_aside_why: why }),
  takeBack: id => setAside(db, id, { set_aside_at: null, set_aside_why: '' }),
})

/** The others of the specimen make room, so that no two have one place; last where no place is given. */
async function putAt(db: Db, specimenId: string, id: string, place?: number): Promise<void> {
  const rows = await db
    .selectFrom('placement')
    .select('recording_id')
    .where('specimen_id', '=', specimenId)
    .where('recording_id', '!=', id)
    .orderBy('place')
    .orderBy('recording_id')
    .execute()
  const ids = rows.map(row => row.recording_id).toSpliced(place ?? rows.length, 0, id)
  for (const [at, one] of ids.entries())
    await db.updateTable('placement').set({ place: at }).where('recording_id', '=', one).execute()
}

const setAside = (
  db: Engine['db'],
  id: string,
  columns: { set_aside_at: string | null; set_aside_why: string },
) =>
  changing(db, async trx => {
    const entry = await getEntry(trx, id)
    if (!entry.ok) return entry
    await trx.updateTable('placement').set(columns).where('recording_id', '=', entry.value.id).execute()
    return getEntry(trx, entry.value.id)
  })

async function loadRecording(db: Db, id: string): Promise<Outcome<Recording>> {
  const row = await db
    .selectFrom('recording')
    .select([
      'id',
      'name',
      'sha256',
      'samples',
      'force_unit',
      'time_from',
      'source',
      'log_options',
      'details',
    ])
    .where('id', '=', id)
    .executeTakeFirst()
  if (!row) return notThere('recording', id)
  const { channels, tension, ...details } = fromJson<Details>(row.details)
  const series: Float64Array[] = []
  for (let index = 0; index < 2 + channels.length; index++) {
    const values = await loadSeries(db, id, index, row.samples)
    if (!values.ok) return values
    series.push(values.value)
  }
  const [timeS, forceN, ...others] = series as [Float64Array, Float64Array, ...Float64Array[]]
  return fine({
    name: row.name,
    sha256: row.sha256,
    timeS,
    forceN,
    forceUnit: (row.force_unit === '' ? null : row.force_unit) as Recording['forceUnit'],
    timeFrom: row.time_from as Recording['timeFrom'],
    channels: channels.map((channel, index) => ({ ...channel, values: others[index]! })),
    ...details,
    ...signOf(tension, details, row),
  })
}

/** The sign of tension as it was kept; for a log of before that, as its options and its assumptions tell it. */
function signOf(
  kept: Recording['tension'],
  { assumptions }: Pick<Recording, 'assumptions'>,
  row: { readonly source: string; readonly log_options: string },
): Pick<Recording, 'tension'> {
  if (kept !== undefined) return { tension: kept }
  if (row.source === 'live') return {}
  const { tension } = fromJson<{ tension?: string }>(row.log_options)
  if (tension !== undefined) return { tension: { turned: tension === 'negative', told: true } }
  const turned = assumptions.some(
    ({ code, text }) => code === 'tension-assumed' && text.includes('and turned'),
  )
  return { tension: { turned, told: false } }
}

/** Chunk by chunk, so that memory holds the samples once and other work gets its turn in between. */
async function loadSeries(
  db: Db,
  id: string,
  series: number,
  samples: number,
): Promise<Outcome<Float64Array>> {
  const values = new Float64Array(samples)
  const damaged = (what: string) =>
    wrong({
      where: `recording “${id}”, ${['time', 'force'][series] ?? `channel ${series - 1}`}`,
      what,
      cure: 'Restore a backup; the log as received may still be whole: export it.',
    })
  let filled = 0
  for (let chunk = 0; filled < samples; chunk++) {
    const row = await db
      .selectFrom('recording_samples')
      .select(['samples', 'crc32', 'packed'])
      .where('recording_id', '=', id)
      .where('series', '=', series)
      .where('chunk', '=', chunk)
      .executeTakeFirst()
    if (!row || filled + row.samples > samples) return damaged(`chunk ${chunk} of its samples is missing.`)
    try {
      values.set(await unpackChunk({ ...row, crc32: Number(row.crc32) }), filled)
    } catch (error) {
      return damaged(`chunk ${chunk} is damaged (${(error as Error).message}).`)
    }
    filled += row.samples
  }
  return fine(values)
}

async function* readLog(db: Db, id: string, place: string): AsyncIterable<Uint8Array> {
  for (let part = 0; ; part++) {
    const row = await db
      .selectFrom('recording_log')
      .select(['raw_bytes', 'packed'])
      .where('recording_id', '=', id)
      .where('part', '=', part)
      .executeTakeFirst()
    if (!row) return
    try {
      yield await unpackLogPart({ rawBytes: row.raw_bytes, packed: row.packed })
    } catch (error) {
      throw new StoreFault(
        {
          where: `${place}, recording “${id}”`,
          what: `part ${part} of its log is damaged (${(error as Error).message}).`,
          cure: 'Restore a backup.',
        },
        error,
      )
    }
  }
}
