import { parseRig, type Rig } from '../core/calibration/rig.ts'
import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { Adjustment } from '../core/reading/adjustment.ts'
import { typedReading } from '../core/reading/typedReading.ts'
import type { Recording } from '../core/recording.ts'
import { isPractice } from '../core/study.ts'
import {
  dayOfPull,
  factsOf,
  type RecordedParts,
  readSpecimen,
  rigOfEntries,
  type SpecimenFacts,
  type SpecimenRead,
  type SpecimenRecording,
  specimenRecording,
} from '../logs/index.ts'
import type { RecordingEntry, Specimen, Store, StoredReading } from '../store/index.ts'
import { tooLongToRead } from './readingMemory.ts'

/** What a specimen of the store is read from. */
interface StoredParts extends RecordedParts {
  readonly recordingIds: readonly string[]
}

/** The logs of a specimen, those set aside left out; `null` where it has none, and its peak was typed. */
async function partsOf(
  store: Store,
  { id, name, typedPeak, pulledOn }: Specimen,
): Promise<Outcome<StoredParts | null>> {
  const { items } = await store.recordings.list({ specimenId: id, limit: 1000 })
  if (items.length === 0 && typedPeak !== null) return fine(null)
  if (items.length === 0)
    return wrong({
      where: `specimen “${name}”`,
      what: 'it has no recording yet.',
      cure: 'Record it, import its log, or type the peak that a scale showed.',
    })
  return recordedParts(
    store,
    [...items].sort((a, b) => a.place - b.place),
    pulledOn,
  )
}

/** These recordings, in this order, with their rig and what was said when they were recorded. `pulledOn`: the day as it was told. */
async function recordedParts(
  store: Store,
  entries: readonly RecordingEntry[],
  pulledOn: string | null,
): Promise<Outcome<StoredParts>> {
  const tooLong = tooLongToRead(entries)
  if (tooLong) return wrong(tooLong)
  const recordings: Recording[] = []
  for (const { id } of entries) {
    const loaded = await store.recordings.load(id)
    if (!loaded.ok) return loaded
    recordings.push(loaded.value)
  }
  const { rigId, calibration } = rigOfEntries(entries)
  const rig = await rigOf(store, rigId)
  if (!rig.ok) return rig
  return fine({
    recordings,
    rig: rig.value,
    day: dayOfPull(pulledOn, entries),
    calibration,
    capacityN: entries.find(entry => entry.capacityN !== null)?.capacityN ?? null,
    isPractice: entries.some(isPractice),
    recordingIds: entries.map(entry => entry.id),
  })
}

/** These recordings, in this order, as one. */
export async function recordingOf(
  store: Store,
  entries: readonly RecordingEntry[],
  pulledOn: string | null,
): Promise<Outcome<SpecimenRecording>> {
  const parts = await recordedParts(store, entries, pulledOn)
  return parts.ok ? specimenRecording(parts.value) : parts
}

/** How recordings read by themselves, whatever specimen they are of; nothing is kept. */
export async function readingOf(
  store: Store,
  entries: readonly RecordingEntry[],
): Promise<Outcome<SpecimenRead>> {
  const parts = await recordedParts(store, entries, null)
  return parts.ok ? readSpecimen({ ...parts.value, facts: null, adjustments: [] }) : parts
}

/** What is shown with a recording: the kept reading of its specimen, of all its recordings; else that of itself alone. */
export async function readingShownWith(
  store: Store,
  entry: RecordingEntry,
): Promise<Outcome<Pick<SpecimenRead, 'recording' | 'reading'>>> {
  if (entry.specimen === null || entry.setAside !== null) return readingOf(store, [entry])
  const [kept] = await store.readings.history({ specimenId: entry.specimen.id })
  const adjustments = (kept?.adjustments ?? []) as Adjustment[]
  const read = await previewReading(store, entry.specimen.id, adjustments)
  if (!read.ok) return read
  const { recording, reading } = read.value
  return recording === null
    ? readingOf(store, [entry])
    : fine({ recording, reading: kept?.reading ?? reading })
}

async function rigOf(store: Store, rigId: string | null): Promise<Outcome<Rig | null>> {
  if (rigId === null) return fine(null)
  const stored = await store.rigs.get(rigId)
  if (!stored.ok) return stored
  return parseRig(JSON.stringify(stored.value.document), `rig “${stored.value.name}”`)
}

/** What the plan, the variant and the specimen itself say of it, for its reading. */
export async function specimenFacts(store: Store, specimen: Specimen): Promise<SpecimenFacts> {
  const study = await store.studies.get(specimen.studyId)
  const variants = await store.variants.list(specimen.studyId)
  const variant = variants.find(v => v.id === specimen.variantId) ?? null
  return factsOf(specimen, variant, study.ok ? study.value : null)
}

interface StoredRead extends Omit<SpecimenRead, 'recording'> {
  /** `null` for a typed peak. */
  readonly recording: Recording | null
  readonly recordingIds: readonly string[]
}

/** The reading of a specimen with these adjustments; nothing is kept. */
export async function previewReading(
  store: Store,
  specimenId: string,
  adjustments: readonly Adjustment[],
): Promise<Outcome<StoredRead>> {
  const specimen = await store.specimens.get(specimenId)
  if (!specimen.ok) return specimen
  const facts = await specimenFacts(store, specimen.value)
  const parts = await partsOf(store, specimen.value)
  if (!parts.ok) return parts
  if (parts.value === null) {
    const reading = typedReading(facts, specimen.value.typedPeak!)
    return fine({ recording: null, reading, options: {}, recordingIds: [] })
  }
  const read = readSpecimen({ ...parts.value, facts, adjustments })
  return read.ok ? fine({ ...read.value, recordingIds: parts.value.recordingIds }) : read
}

/**
 * Reads a specimen and keeps the reading. Without adjustments given, those of its last reading are replayed. `basedOn`:
 * the newest reading that the caller saw, `null` for none; a newer one is told, and nothing is written.
 */
export async function keepReading(
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
