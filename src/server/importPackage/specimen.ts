import { fine, type Outcome } from '../../core/problem.ts'
import { openedLog } from '../../publish/package/recomputed.ts'
import type { PublishedLog, PublishedSpecimen } from '../../publish/study/study.ts'
import { toldFields } from '../../publish/study/toldFields.ts'
import type { RecordingEntry, Specimen, Store } from '../../store/index.ts'
import { openRaw } from '../openRaw.ts'
import { importNotes, importPhotos } from './sides.ts'

export interface SpecimenCounts {
  /** Recordings that were added, and those that were there already. */
  readonly recordings: number
  readonly known: number
  readonly readings: number
  /** What a person should know, a line each. */
  readonly told: readonly string[]
}

interface Place {
  readonly studyId: string
  readonly variantId: string | null
  readonly rigId: string | null
}

/** A specimen with its logs, notes, photos and reading. What is known of one that is there already stays as it is. */
export async function importSpecimen(
  store: Store,
  published: PublishedSpecimen,
  place: Place,
): Promise<Outcome<SpecimenCounts>> {
  const found = await specimenOf(store, published, place)
  if (!found.ok) return found
  const { id } = found.value
  const entries: RecordingEntry[] = []
  const told: string[] = []
  let added = 0
  for (const log of published.logs) {
    const taken = await importLog(store, log, { published, specimenId: id, rigId: place.rigId })
    if (!taken.ok) return taken
    const { entry, isNew } = taken.value
    if (isNew) added++
    if (entry.specimen?.id === id) entries.push(entry)
    else
      told.push(
        `${log.name} is in the store already, on ${entry.specimen?.name ?? 'no specimen'} of ${entry.study?.name ?? 'no study'}; a log belongs to one specimen, so ${published.name} is without it here.`,
      )
  }
  const subject = { kind: 'specimen', id } as const
  const notes = await importNotes(store, subject, published.remarks)
  if (!notes.ok) return notes
  const photos = await importPhotos(store, subject, published.photos)
  if (!photos.ok) return photos
  const whole = entries.length === published.logs.length
  const reading = whole ? await importReading(store, id, published, entries) : fine(0)
  if (!reading.ok) return reading
  return fine({ recordings: added, known: published.logs.length - added, readings: reading.value, told })
}

async function specimenOf(
  store: Store,
  published: PublishedSpecimen,
  { studyId, variantId }: Place,
): Promise<Outcome<Specimen>> {
  const there = (await store.specimens.list(studyId)).find(({ name }) => name === published.name)
  if (there) return fine(there)
  return store.specimens.create(studyId, { ...toldFields(published), variantId })
}

async function importLog(
  store: Store,
  log: PublishedLog,
  to: {
    readonly published: PublishedSpecimen
    readonly specimenId: string
    readonly rigId: string | null
  },
): Promise<Outcome<{ entry: RecordingEntry; isNew: boolean }>> {
  const { published, specimenId, rigId } = to
  const known = await store.recordings.bySha256(log.sha256)
  const here = known.find(({ specimen }) => specimen?.id === specimenId)
  if (here) return fine({ entry: here, isNew: false })
  const loose = known.find(({ specimen }) => specimen === null)
  if (loose) {
    const placed = await store.recordings.place(loose.id, specimenId)
    return placed.ok ? fine({ entry: placed.value, isNew: false }) : placed
  }
  const [elsewhere] = known
  if (elsewhere) return fine({ entry: elsewhere, isNew: false })
  const recording = await openedLog(log, openRaw)
  if (!recording.ok) return recording
  const { rig, day, calibration } = published.readWith
  return store.recordings.save({
    recording: recording.value,
    log: await log.bytes(),
    source: log.source,
    // The day by which the calibration was chosen must stay, also where nobody knows the moment.
    startedAt: log.startedAt ?? (rig === null ? null : day),
    specimenId,
    rigId,
    calibration,
    logOptions: log.options,
  })
}

/** The published reading, where the specimen has none of its own. */
async function importReading(
  store: Store,
  specimenId: string,
  { reading, readWith }: PublishedSpecimen,
  entries: readonly RecordingEntry[],
): Promise<Outcome<number>> {
  if (reading === null || (await store.readings.history({ specimenId })).length > 0) return fine(0)
  const saved = await store.readings.save({
    specimenId,
    recordingIds: entries.map(({ id }) => id),
    engine: reading.engine,
    adjustments: reading.adjustments ?? [],
    options: {
      elements: reading.specimen?.elements ?? null,
      capacityN: readWith.rig?.cell.capacityN ?? null,
      strokeMm: readWith.rig?.strokeMm ?? null,
    },
    reading,
  })
  return saved.ok ? fine(1) : saved
}
