import { join } from 'node:path'
import { type Captured, discardJournal, type LineRig, recoverJournals } from '../capture/index.ts'
import { fine, type Outcome, type Problem } from '../core/problem.ts'
import type { RecordingEntry, Specimen, Store } from '../store/index.ts'
import { keepRig } from './keepRig.ts'
import { readSpecimen } from './specimenReading.ts'

const STATES = { finished: 'complete', 'given-up': 'given-up', recovered: 'recovered' } as const

/** Why a recording that was given up is set aside, where no reason was given. */
const GIVEN_UP = 'given up'

export interface StoredCaptured {
  readonly entry: RecordingEntry
  /** What went wrong beside it: the recording itself is kept. */
  readonly problems: readonly Problem[]
}

/**
 * Puts a recording that has ended into the store, on its specimen where it names one and with its rig, reads the
 * specimen, and only then lets its journal go. One that was given up is set aside. May be called again for the same one:
 * nothing is stored twice.
 */
export async function storeCaptured(store: Store, captured: Captured): Promise<Outcome<StoredCaptured>> {
  const placed = await specimenOf(store, captured)
  if (!placed.ok) return placed
  const rig = await rigIdOf(store, captured.rig)
  const saved = await store.recordings.save({
    // The hash is that of the journal, which is what was received; the store works it out.
    recording: { ...captured.recording, sha256: '' },
    log: captured.log,
    source: 'live',
    state: STATES[captured.how],
    startedAt: captured.startedAt,
    device: captured.source,
    id: captured.id,
    specimenId: placed.value?.id ?? null,
    rigId: rig.ok ? rig.value : null,
    logOptions: captured.capacityN === null ? {} : { capacityN: captured.capacityN },
  })
  if (!saved.ok) return saved
  const problems = rig.ok ? [] : [...rig.problems]
  // The operator said that this pull does not count.
  const isGivenUp = captured.how === 'given-up' || captured.reason !== null
  let { entry } = saved.value
  if (isGivenUp && entry.setAside === null && saved.value.isNew) {
    const aside = await store.recordings.setAside(entry.id, captured.reason ?? GIVEN_UP)
    if (aside.ok) entry = aside.value
    else problems.push(...aside.problems)
  }
  await discardJournal(captured.journal)
  if (placed.value && !isGivenUp && saved.value.isNew) {
    const read = await readSpecimen(store, placed.value.id)
    if (!read.ok) problems.push(...read.problems)
  }
  return fine({ entry, problems })
}

/** The specimen that it is of, made where there is none of these names yet; `null`: it names none. */
async function specimenOf(
  store: Store,
  { about: { study, variant, specimen, operator }, specimenId, elements }: Captured,
): Promise<Outcome<Specimen | null>> {
  const known = specimenId === null ? null : await store.specimens.get(specimenId)
  if (known?.ok) {
    if (operator === null || known.value.operator !== '') return known
    return store.specimens.update(known.value.id, { operator })
  }
  if (study === null || specimen === null) return fine(null)
  const named = await store.specimens.named({ study, variant, specimen })
  if (!named.ok) return named
  // So that the reading which is kept is made of the same facts as the one that was shown.
  return store.specimens.update(named.value.id, {
    ...(operator !== null && named.value.operator === '' ? { operator } : {}),
    ...(elements === null ? {} : { elements }),
  })
}

/** The rig's id in this store: its own where it is of this store, else that of the rig which says the same. */
async function rigIdOf(store: Store, rig: LineRig | null): Promise<Outcome<string | null>> {
  if (rig === null) return fine(null)
  const known = rig.id === null ? null : await store.rigs.get(rig.id)
  return known?.ok ? fine(known.value.id) : keepRig(store, rig.document)
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
    const stored = await storeCaptured(store, one)
    if (stored.ok) recovered.push(stored.value.entry)
    problems.push(...(stored.ok ? stored.value.problems : stored.problems))
  }
  return { recovered, problems, inUse: found.inUse }
}

/** Where the journals of a store's captures lie. */
export const journalsFolder = (storeFolder: string): string => join(storeFolder, 'journals')
