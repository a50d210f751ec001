import { join } from 'node:path'
import { type Captured, discardJournal, recoverJournals } from '../capture/index.ts'
import { fine, type Outcome, type Problem } from '../core/problem.ts'
import type { RecordingEntry, Store } from '../store/index.ts'
import { readSpecimen } from './specimenReading.ts'

const STATES = { finished: 'complete', 'given-up': 'given-up', recovered: 'recovered' } as const

/**
 * Puts a recording that has ended into the store, on its specimen where it names one, reads the specimen, and only
 * then lets its journal go. May be called again for the same one: nothing is stored twice.
 */
export async function storeCaptured(
  store: Store,
  captured: Captured,
  { device, rigId = null }: { device: string; rigId?: string | null },
): Promise<Outcome<{ entry: RecordingEntry; readingProblems: readonly Problem[] }>> {
  const { study, variant, specimen, operator } = captured.about
  const placed =
    study === null || specimen === null ? null : await store.specimens.named({ study, variant, specimen })
  if (placed && !placed.ok) return placed
  // So that the reading which is kept is made of the same facts as the one that was shown.
  if (placed)
    await store.specimens.update(placed.value.id, {
      ...(operator !== null && placed.value.operator === '' ? { operator } : {}),
      ...(captured.elements === null ? {} : { elements: captured.elements }),
    })
  const saved = await store.recordings.save({
    // The hash is that of the journal, which is what was received; the store works it out.
    recording: { ...captured.recording, sha256: '' },
    log: captured.log,
    source: 'live',
    state: STATES[captured.how],
    startedAt: captured.startedAt,
    device,
    id: captured.id,
    specimenId: placed?.value.id ?? null,
    rigId,
  })
  if (!saved.ok) return saved
  await discardJournal(captured.journal)
  // Given up: the operator says that this pull does not count.
  const read =
    placed && captured.how !== 'given-up' && saved.value.isNew
      ? await readSpecimen(store, placed.value.id)
      : null
  return fine({ entry: saved.value.entry, readingProblems: read && !read.ok ? read.problems : [] })
}

/** Takes every journal that a stopped program left behind into the store. */
export async function recoverIntoStore(
  store: Store,
  journals: string,
): Promise<{ recovered: readonly RecordingEntry[]; problems: readonly Problem[]; inUse: readonly string[] }> {
  const found = await recoverJournals(journals)
  const recovered: RecordingEntry[] = []
  const problems = [...found.problems]
  for (const one of found.captured) {
    const stored = await storeCaptured(store, one, { device: 'recovered from its journal' })
    if (stored.ok) recovered.push(stored.value.entry)
    else problems.push(...stored.problems)
  }
  return { recovered, problems, inUse: found.inUse }
}

/** Where the journals of a store's captures lie. */
export const journalsFolder = (storeFolder: string): string => join(storeFolder, 'journals')
