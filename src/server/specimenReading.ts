import { parseRig, type Rig } from '../core/calibration/rig.ts'
import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { Adjustment } from '../core/reading/adjustment.ts'
import type { Reading } from '../core/reading/document.ts'
import type { Recording } from '../core/recording.ts'
import {
  factsOf,
  specimenRecording as joined,
  readSpecimen as read,
  type SpecimenRecording,
} from '../logs/index.ts'
import type { RecordingEntry, Specimen, Store, StoredReading } from '../store/index.ts'

/** The logs of a specimen, those set aside left out, as one recording in newton by its rig. */
export interface StoredSpecimenRecording extends SpecimenRecording {
  readonly recordingIds: readonly string[]
}

export async function specimenRecording(
  store: Store,
  specimenId: string,
): Promise<Outcome<StoredSpecimenRecording>> {
  const { items } = await store.recordings.list({ specimenId, limit: 1000 })
  if (items.length === 0) {
    const specimen = await store.specimens.get(specimenId)
    return specimen.ok
      ? wrong({
          where: `specimen “${specimen.value.name}”`,
          what: 'it has no recording yet.',
          cure: 'Record it, or import its log.',
        })
      : specimen
  }
  return recordingOf(
    store,
    [...items].sort((a, b) => a.place - b.place),
  )
}

/** These recordings, in this order, as one. */
export async function recordingOf(
  store: Store,
  entries: readonly RecordingEntry[],
): Promise<Outcome<StoredSpecimenRecording>> {
  const recordings: Recording[] = []
  for (const { id } of entries) {
    const loaded = await store.recordings.load(id)
    if (!loaded.ok) return loaded
    recordings.push(loaded.value)
  }
  const rig = await rigOf(store, entries.find(entry => entry.rigId !== null)?.rigId ?? null)
  if (!rig.ok) return rig
  const day = (entries[0]?.startedAt ?? entries[0]?.addedAt)?.slice(0, 10)
  const one = joined(recordings, rig.value, day)
  if (!one.ok) return one
  const limits = { ...one.value.limits }
  limits.capacityN = (await toldCapacity(store, entries)) ?? limits.capacityN
  return fine({ ...one.value, limits, recordingIds: entries.map(entry => entry.id) })
}

/** What the operator said that the cell may read, when it was recorded: it counts for more than the rig's word. */
async function toldCapacity(store: Store, entries: readonly RecordingEntry[]): Promise<number | null> {
  for (const { id } of entries) {
    const options = await store.recordings.logOptions(id)
    const told = options.ok && 'capacityN' in options.value ? options.value.capacityN : null
    if (typeof told === 'number') return told
  }
  return null
}

async function rigOf(store: Store, rigId: string | null): Promise<Outcome<Rig | null>> {
  if (rigId === null) return fine(null)
  const stored = await store.rigs.get(rigId)
  if (!stored.ok) return stored
  return parseRig(JSON.stringify(stored.value.document), `rig “${stored.value.name}”`)
}

/** What the plan, the variant and the specimen itself say of it, for its reading. */
async function specimenFacts(store: Store, specimen: Specimen): Promise<NonNullable<Reading['specimen']>> {
  const study = await store.studies.get(specimen.studyId)
  const variants = await store.variants.list(specimen.studyId)
  const variant = variants.find(v => v.id === specimen.variantId) ?? null
  return factsOf(specimen, variant, study.ok ? study.value : null)
}

/** The reading of a specimen with these adjustments; nothing is kept. */
export async function previewReading(
  store: Store,
  specimenId: string,
  adjustments: readonly Adjustment[],
): Promise<Outcome<{ reading: Reading; recordingIds: readonly string[]; options: object }>> {
  const specimen = await store.specimens.get(specimenId)
  if (!specimen.ok) return specimen
  const recording = await specimenRecording(store, specimenId)
  if (!recording.ok) return recording
  const facts = await specimenFacts(store, specimen.value)
  return fine({ ...read(recording.value, facts, adjustments), recordingIds: recording.value.recordingIds })
}

/**
 * Reads a specimen and keeps the reading. Without adjustments given, those of its last reading are replayed. `basedOn`:
 * the newest reading that the caller saw, `null` for none; a newer one is told, and nothing is written.
 */
export async function readSpecimen(
  store: Store,
  specimenId: string,
  adjustments?: readonly Adjustment[],
  basedOn?: string | null,
): Promise<Outcome<StoredReading>> {
  const last =
    adjustments ??
    ((await store.readings.history({ specimenId }))[0]?.adjustments as Adjustment[] | undefined)
  const read = await previewReading(store, specimenId, last ?? [])
  if (!read.ok) return read
  const { reading, recordingIds, options } = read.value
  return store.readings.save(
    {
      specimenId,
      recordingIds,
      engine: reading.engine,
      adjustments: last ?? [],
      options,
      reading,
    },
    basedOn,
  )
}
