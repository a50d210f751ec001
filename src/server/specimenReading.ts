import { applyRig, type RigApplied } from '../core/calibration/applyRig.ts'
import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { Adjustment } from '../core/reading/adjustment.ts'
import type { Reading } from '../core/reading/document.ts'
import { readRecording } from '../core/reading/readRecording.ts'
import type { Recording } from '../core/recording.ts'
import { joinRecordings } from '../logs/index.ts'
import type { RecordingEntry, Specimen, Store, StoredReading } from '../store/index.ts'

/** The logs of a specimen, those set aside left out, as one recording in newton by its rig. */
export interface SpecimenRecording {
  readonly recording: Recording
  readonly recordingIds: readonly string[]
  readonly scale: RigApplied['scale']
  readonly rigWarnings: RigApplied['warnings']
  readonly limits: { readonly capacityN: number | null; readonly strokeMm: number | null }
}

export async function specimenRecording(
  store: Store,
  specimenId: string,
): Promise<Outcome<SpecimenRecording>> {
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
): Promise<Outcome<SpecimenRecording>> {
  const recordings: Recording[] = []
  for (const { id } of entries) {
    const loaded = await store.recordings.load(id)
    if (!loaded.ok) return loaded
    recordings.push(loaded.value)
  }
  const joined = joinRecordings(recordings)
  if (!joined.ok) return joined
  const recordingIds = entries.map(entry => entry.id)
  const rigId = entries.find(entry => entry.rigId !== null)?.rigId ?? null
  const bare = {
    recording: joined.value,
    recordingIds,
    scale: null,
    rigWarnings: [],
    limits: { capacityN: null, strokeMm: null },
  }
  if (rigId === null) return fine(bare)
  const stored = await store.rigs.get(rigId)
  if (!stored.ok) return stored
  const { parseRig } = await import('../core/calibration/rig.ts')
  const rig = parseRig(JSON.stringify(stored.value.document), `rig “${stored.value.name}”`)
  if (!rig.ok) return rig
  const applied = applyRig(
    joined.value,
    rig.value,
    (entries[0]?.startedAt ?? entries[0]?.addedAt)?.slice(0, 10),
  )
  if (!applied.ok) return applied
  const { recording, scale, warnings } = applied.value
  return fine({
    recording,
    recordingIds,
    scale,
    rigWarnings: warnings,
    limits: {
      capacityN: rig.value.cell.capacityN ?? null,
      strokeMm: rig.value.strokeMm ?? null,
    },
  })
}

/** What the plan, the variant and the specimen itself say of it, for its reading. */
async function specimenFacts(store: Store, specimen: Specimen): Promise<NonNullable<Reading['specimen']>> {
  const study = await store.studies.get(specimen.studyId)
  const variants = await store.variants.list(specimen.studyId)
  const variant = variants.find(v => v.id === specimen.variantId) ?? null
  return {
    name: specimen.name,
    variant: variant?.name ?? null,
    elements: specimen.elements ?? variant?.elements ?? (study.ok ? study.value.elements : null),
    widthMm: specimen.widthMm,
    thicknessMm: specimen.thicknessMm,
    lengthMm: specimen.lengthMm,
    mode: specimen.failureMode,
    note: specimen.note === '' ? null : specimen.note,
  }
}

/** The reading of a specimen with these adjustments; nothing is kept. */
export async function previewReading(
  store: Store,
  specimenId: string,
  adjustments: readonly Adjustment[],
): Promise<Outcome<{ reading: Reading; recordingIds: readonly string[]; options: object }>> {
  const specimen = await store.specimens.get(specimenId)
  if (!specimen.ok) return specimen
  const joined = await specimenRecording(store, specimenId)
  if (!joined.ok) return joined
  const { recording, recordingIds, scale, rigWarnings, limits } = joined.value
  const facts = await specimenFacts(store, specimen.value)
  const reading = readRecording(recording, {
    elements: facts.elements,
    specimen: facts,
    scale,
    adjustments,
    ...limits,
  })
  return fine({
    reading: { ...reading, warnings: [...reading.warnings, ...rigWarnings] },
    recordingIds,
    options: { elements: facts.elements, ...limits },
  })
}

/** Reads a specimen and keeps the reading. Without adjustments given, those of its last reading are replayed. */
export async function readSpecimen(
  store: Store,
  specimenId: string,
  adjustments?: readonly Adjustment[],
): Promise<Outcome<StoredReading>> {
  const last =
    adjustments ??
    ((await store.readings.history({ specimenId }))[0]?.adjustments as Adjustment[] | undefined)
  const read = await previewReading(store, specimenId, last ?? [])
  if (!read.ok) return read
  const { reading, recordingIds, options } = read.value
  return store.readings.save({
    specimenId,
    recordingIds,
    engine: reading.engine,
    adjustments: last ?? [],
    options,
    reading,
  })
}
