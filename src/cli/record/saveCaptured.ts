import { type Captured, discardJournal, recoverJournals } from '../../capture/index.ts'
import { fine, type Outcome, type Problem } from '../../core/problem.ts'
import type { LogOptions } from '../../logs/index.ts'
import type { RecordingEntry, Store } from '../../store/index.ts'

/** Study of specimens that are recorded without one. */
const NO_STUDY = 'Unsorted'

export interface Saved {
  readonly entry: RecordingEntry
  readonly captured: Captured
}

/** Puts a captured recording, with its reading, into the store; only then its journal is removed. */
export async function saveCaptured(
  store: Store,
  captured: Captured,
  { device, logOptions }: { readonly device: string; readonly logOptions: LogOptions },
): Promise<Outcome<Saved>> {
  const { about, recording, reading } = captured
  let specimenId: string | null = null
  if (about.specimen !== null) {
    const { study, variant, specimen } = about
    const named = await store.specimens.named({ study: study ?? NO_STUDY, variant, specimen })
    if (!named.ok) return named
    specimenId = named.value.id
    if (about.operator !== null) {
      const updated = await store.specimens.update(specimenId, { operator: about.operator })
      if (!updated.ok) return updated
    }
  }
  const saved = await store.recordings.save({
    id: captured.id,
    recording,
    log: captured.log,
    source: 'live',
    state: captured.how === 'finished' ? 'complete' : captured.how,
    startedAt: captured.startedAt,
    device,
    specimenId,
    logOptions,
  })
  if (!saved.ok) return saved
  const { entry } = saved.value
  if (reading.ok) {
    const kept = await store.readings.save({
      specimenId,
      recordingIds: [entry.id],
      engine: reading.value.engine,
      adjustments: [],
      options: {},
      reading: { ...reading.value, recording: { ...reading.value.recording, sha256: entry.sha256 } },
    })
    if (!kept.ok) return kept
  }
  await discardJournal(captured.journal)
  return fine({ entry, captured })
}

export interface RecoveredInto {
  readonly saved: readonly Saved[]
  readonly problems: readonly Problem[]
}

/** Makes a recording in the store of every journal that was left behind. Safe to be cut off and run again. */
export async function recoverInto(store: Store, journals: string): Promise<RecoveredInto> {
  const { captured, problems } = await recoverJournals(journals)
  const saved: Saved[] = []
  const failed: Problem[] = [...problems]
  for (const one of captured) {
    const outcome = await saveCaptured(store, one, { device: 'recovered journal', logOptions: {} })
    if (outcome.ok) saved.push(outcome.value)
    else failed.push(...outcome.problems)
  }
  return { saved, problems: failed }
}
