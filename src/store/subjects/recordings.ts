import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { BlockOfSamples, Recording, RecordingHead } from '../../core/recording.ts'
import type { Engine } from '../engine/engine.ts'
import { StoreFault } from '../fault.ts'
import { guardedStream } from '../guarded.ts'
import { CHUNK_SAMPLES, unpackChunk, unpackLogPart } from '../pack/recording.ts'
import type { Recordings, StoredInChunks } from '../store.ts'
import { changing, type Db, fromJson, notThere, nowIso } from './common.ts'
import { entries, entryOf, getEntry, listRecordings } from './recordingList.ts'
import { type Details, saveLong, saveRecording } from './saveRecording.ts'
import { refreshSearch } from './searchText.ts'
import { getSpecimen } from './specimens.ts'

export function recordings(engine: Engine): Recordings {
  const { db, place, findWords } = engine
  return {
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
    load: id => loadRecording(engine, id),
    inChunks: id => inChunks(engine, id),
    log: id => readLog(db, id, place),
    async logOptions(id) {
      const row = await db
        .selectFrom('recording')
        .select('log_options')
        .where('id', '=', id)
        .executeTakeFirst()
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
  }
}

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

async function loadRecording(engine: Engine, id: string): Promise<Outcome<Recording>> {
  const found = await inChunks(engine, id)
  if (!found.ok) return found
  const { head, samples, series } = found.value
  const all: Float64Array[] = []
  for (let index = 0; index < 2 + head.channels.length; index++) {
    const values = new Float64Array(samples)
    let filled = 0
    for await (const chunk of series(index)) {
      if (!chunk.ok) return chunk
      values.set(chunk.value, filled)
      filled += chunk.value.length
    }
    all.push(values)
  }
  const [timeS, forceN, ...others] = all as [Float64Array, Float64Array, ...Float64Array[]]
  const channels = head.channels.map((channel, index) => ({ ...channel, values: others[index]! }))
  return fine({ ...head, timeS, forceN, channels })
}

async function inChunks(engine: Engine, id: string): Promise<Outcome<StoredInChunks>> {
  const { db } = engine
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
  const { samples } = row
  const head: RecordingHead = {
    name: row.name,
    sha256: row.sha256,
    forceUnit: (row.force_unit === '' ? null : row.force_unit) as Recording['forceUnit'],
    timeFrom: row.time_from as Recording['timeFrom'],
    channels,
    ...details,
    ...signOf(tension, details, row),
  }
  const series = (index: number) => chunksOf(db, { id, series: index, samples })
  return fine({
    head,
    samples,
    series,
    blocks: () =>
      guardedStream(engine, blocksOf(Array.from({ length: 2 + channels.length }, (_, i) => series(i)))),
  })
}

async function* blocksOf(
  series: readonly AsyncGenerator<Outcome<Float64Array>>[],
): AsyncGenerator<BlockOfSamples> {
  for (;;) {
    const values: Float64Array[] = []
    for (const one of series) {
      const next = await one.next()
      if (next.done) return
      if (!next.value.ok) throw new StoreFault({ ...next.value.problems[0]!, code: 'store-damaged' })
      values.push(next.value.value)
    }
    const [timeS, forceN, ...channels] = values as [Float64Array, Float64Array, ...Float64Array[]]
    yield { timeS, forceN, channels }
  }
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

/** Chunk by chunk, so that memory holds one of them and other work gets its turn in between. */
async function* chunksOf(
  db: Db,
  { id, series, samples }: { readonly id: string; readonly series: number; readonly samples: number },
): AsyncGenerator<Outcome<Float64Array>> {
  const damaged = (what: string) =>
    wrong({
      where: `recording “${id}”, ${['time', 'force'][series] ?? `channel ${series - 1}`}`,
      what,
      cure: 'Restore a backup; the log as received may still be whole: export it.',
    })
  let from = 0
  for (let chunk = 0; from < samples; chunk++) {
    const row = await db
      .selectFrom('recording_samples')
      .select(['samples', 'crc32', 'packed'])
      .where('recording_id', '=', id)
      .where('series', '=', series)
      .where('chunk', '=', chunk)
      .executeTakeFirst()
    if (!row || !(row.samples > 0) || from + row.samples > samples) {
      from += CHUNK_SAMPLES
      yield damaged(`chunk ${chunk} of its samples is missing.`)
      continue
    }
    from += row.samples
    let values: Float64Array
    try {
      values = await unpackChunk({ ...row, crc32: Number(row.crc32) })
    } catch (error) {
      yield damaged(`chunk ${chunk} is damaged (${(error as Error).message}).`)
      continue
    }
    yield fine(values)
  }
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
          code: 'store-damaged',
          where: `${place}, recording “${id}”`,
          what: `part ${part} of its log is damaged (${(error as Error).message}).`,
          cure: 'Restore a backup.',
        },
        error,
      )
    }
  }
}
