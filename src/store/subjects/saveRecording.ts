import { fileProblem } from '../../core/fileProblem.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { ChannelHead, Recording } from '../../core/recording.ts'
import type { Engine } from '../engine/engine.ts'
import { ID_PATTERN, newId } from '../ids.ts'
import { packInBlocks } from '../pack/inBlocks.ts'
import { type PackedChunk, type PackedLogPart, packLog, packSamples } from '../pack/recording.ts'
import { openScratch } from '../pack/scratch.ts'
import type { NewLongRecording, NewRecording, RecordingEntry } from '../types.ts'
import { changing, type Db, notThere, nowIso } from './common.ts'
import { entries, entryOf, getEntry } from './recordingList.ts'
import { refreshSearch } from './searchText.ts'
import { getSpecimen } from './specimens.ts'

/** What a recording has besides its samples, as kept. Channels without their values. */
export interface Details {
  readonly segments: Recording['segments']
  readonly channels: readonly ChannelHead[]
  readonly notes: Recording['notes']
  readonly assumptions: Recording['assumptions']
  readonly understood: string
  /** Missing in what was kept before it was told. */
  readonly tension?: Recording['tension']
}

interface Saved {
  readonly entry: RecordingEntry
  readonly isNew: boolean
}

export async function saveRecording(db: Engine['db'], added: NewRecording): Promise<Outcome<Saved>> {
  const { recording } = added
  if (recording.segments.some(segment => segment.began === 'file'))
    return wrong({
      where: recording.name,
      what: 'it is put together from several logs.',
      cure: 'Save each log by itself and place them on one specimen.',
    })
  const log = await packLog(added.log)
  if (recording.sha256 !== '' && recording.sha256 !== log.sha256)
    return wrong({
      where: recording.name,
      what: 'its bytes are not those that the samples were read from.',
      cure: 'The file may have changed meanwhile: import it again.',
    })
  const samples = await packSamples(recording)
  return writeRecording(db, added, {
    facts: recording,
    channels: recording.channels.map(({ name, kind, unit }) => ({ name, kind, unit })),
    startS: recording.timeS[0] ?? null,
    endS: recording.timeS.at(-1) ?? null,
    log,
    samples: { ...samples, count: recording.timeS.length },
  })
}

export async function saveLong(db: Engine['db'], added: NewLongRecording): Promise<Outcome<Saved>> {
  const known = await alreadyThere(db, added, '')
  if (known) return fine({ entry: known, isNew: false })
  try {
    const scratch = await openScratch(added.scratchFolder)
    try {
      const { log, samples, rest, ...told } = await packInBlocks(added.recording, added.log, scratch)
      return await writeRecording(db, added, {
        ...told,
        facts: { name: added.recording.name, forceUnit: added.recording.forceUnit, ...rest },
        log: { ...log, parts: log.parts() },
        samples: { ...samples, chunks: samples.chunks() },
      })
    } finally {
      await scratch.close()
    }
  } catch (error) {
    // The disk's own error, as where it is full; the database's are told by the caller.
    if ((error as NodeJS.ErrnoException | null)?.syscall === undefined) throw error
    return wrong(fileProblem(added.scratchFolder, error, 'writing'))
  }
}

/** A recording as it is written, whether its packed bytes are in memory or in a file. */
interface Packed {
  readonly facts: Pick<
    Recording,
    'name' | 'forceUnit' | 'timeFrom' | 'tension' | 'segments' | 'notes' | 'assumptions' | 'understood'
  >
  readonly channels: Details['channels']
  readonly startS: number | null
  readonly endS: number | null
  readonly log: {
    readonly sha256: string
    readonly bytes: number
    readonly parts: Iterable<PackedLogPart> | AsyncIterable<PackedLogPart>
  }
  readonly samples: {
    readonly sha256: string
    readonly count: number
    readonly chunks: Iterable<PackedChunk> | AsyncIterable<PackedChunk>
  }
}

async function writeRecording(
  db: Engine['db'],
  added: Omit<NewRecording, 'recording' | 'log'>,
  { facts, channels, startS, endS, log, samples }: Packed,
): Promise<Outcome<Saved>> {
  if (added.id !== undefined && !ID_PATTERN.test(added.id))
    throw new RangeError(`“${added.id}” cannot be the id of a recording`)
  const details: Details = {
    segments: facts.segments.map(segment => ({ ...segment, sha256: log.sha256 })),
    channels,
    notes: facts.notes,
    assumptions: facts.assumptions,
    understood: facts.understood,
    ...(facts.tension === undefined ? {} : { tension: facts.tension }),
  }
  return changing<Saved>(db, async trx => {
    const known = await alreadyThere(trx, added, log.sha256)
    if (known) return fine({ entry: known, isNew: false })
    const specimenId = added.specimenId ?? null
    if (specimenId !== null) {
      const specimen = await getSpecimen(trx, specimenId)
      if (!specimen.ok) return specimen
    }
    const rigId = added.rigId ?? null
    if (rigId !== null) {
      const rig = await trx.selectFrom('rig').select('id').where('id', '=', rigId).executeTakeFirst()
      if (!rig) return notThere('rig', rigId)
    }
    const id = added.id ?? newId()
    await trx
      .insertInto('recording')
      .values({
        id,
        name: facts.name,
        sha256: log.sha256,
        samples_sha256: samples.sha256,
        samples: samples.count,
        log_bytes: log.bytes,
        started_at: added.startedAt ?? null,
        added_at: nowIso(),
        start_s: startS,
        end_s: endS,
        // '' for one that is not told: the column holds no null.
        force_unit: facts.forceUnit ?? '',
        time_from: facts.timeFrom,
        source: added.source,
        device: added.device ?? '',
        state: added.state ?? 'complete',
        rig_id: rigId,
        calibration_id: added.calibrationId ?? null,
        log_options: JSON.stringify(added.logOptions ?? {}),
        details: JSON.stringify(details),
      })
      .execute()
    for await (const { part, rawBytes, packed } of log.parts)
      await trx
        .insertInto('recording_log')
        .values({ recording_id: id, part, raw_bytes: rawBytes, packed })
        .execute()
    for await (const { series, chunk, samples: count, crc32, packed } of samples.chunks)
      await trx
        .insertInto('recording_samples')
        .values({ recording_id: id, series, chunk, samples: count, crc32, packed })
        .execute()
    await trx
      .insertInto('placement')
      .values({
        recording_id: id,
        specimen_id: specimenId,
        place: specimenId === null ? 0 : await nextPlace(trx, specimenId),
        rig_id: rigId,
        calibration: rigId === null ? null : (added.calibration ?? null),
        set_aside_at: null,
        set_aside_why: '',
        search_text: '',
      })
      .execute()
    await refreshSearch(trx, { recordingId: id })
    if (specimenId !== null)
      await trx
        .updateTable('specimen')
        .set({ status: 'pulled', updated_at: nowIso() })
        .where('id', '=', specimenId)
        .where('status', '=', 'planned')
        .execute()
    const entry = await getEntry(trx, id)
    return entry.ok ? fine({ entry: entry.value, isNew: true }) : entry
  })
}

async function alreadyThere(
  db: Db,
  { id, source }: Pick<NewRecording, 'id' | 'source'>,
  sha256: string,
): Promise<RecordingEntry | null> {
  if (id !== undefined) {
    const row = await entries(db).where('recording.id', '=', id).executeTakeFirst()
    if (row) return entryOf(row)
  }
  // Two live recordings with the same bytes are two pulls (a pretend rig repeats itself); two such files are one log.
  if (source === 'live') return null
  const row = await entries(db)
    .where('recording.sha256', '=', sha256)
    .orderBy('recording.added_at')
    .executeTakeFirst()
  return row ? entryOf(row) : null
}

async function nextPlace(db: Db, specimenId: string): Promise<number> {
  const { last } = await db
    .selectFrom('placement')
    .where('specimen_id', '=', specimenId)
    .select(eb => eb.fn.max('place').as('last'))
    .executeTakeFirstOrThrow()
  return last === null ? 0 : Number(last) + 1
}
