import type { Captured, CapturedFacts, CapturedWhole, LineRig } from '../../capture/types.ts'
import { faultText, fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { Reading } from '../../core/reading/document.ts'
import { withHash } from '../../core/withHash.ts'
import type { NewRecording, RecordingEntry, Specimen } from '../../store/types.ts'
import type { DeskStore } from './deskStore.ts'
import { keepRig } from './keepRig.ts'

const STATES = { finished: 'complete', 'given-up': 'given-up', recovered: 'recovered' } as const

/** Why a recording that was given up is set aside, where no reason was given. */
const GIVEN_UP = 'given up'

/** Reads a specimen anew, of all its recordings, and keeps the reading. */
export type ReadSpecimen = (specimenId: string) => Promise<Outcome<Reading>>

export interface StoredCaptured {
  readonly entry: RecordingEntry
  /** False where it was there already. */
  readonly isNew: boolean
  /**
   * Of its specimen, of all its recordings, as it is kept; of this recording alone where it is of no specimen or does not
   * count. Why there is none.
   */
  readonly reading: Outcome<Reading>
  /** What went wrong beside it: the recording itself is kept. */
  readonly problems: readonly Problem[]
}

/** Makes the recording of a journal on the disk and puts it into the store. The journal stays. */
export type TakeIn = (path: string, how: CapturedFacts['how']) => Promise<Outcome<StoredCaptured>>

/**
 * Puts a recording that has ended into the store, on its specimen where it names one and with its rig, reads the
 * specimen, and only then lets its journal go. One that was given up is set aside. May be called again for the same one:
 * nothing is stored twice. `takeIn` does it for those of which nothing was made when they ended.
 */
export async function storeCaptured(
  store: DeskStore,
  captured: Captured,
  read: ReadSpecimen,
  takeIn?: TakeIn,
): Promise<Outcome<StoredCaptured>> {
  const { keeping } = captured
  let stored: Outcome<StoredCaptured>
  if (captured.recording !== null) stored = await storeMade(store, captured, read)
  else if (takeIn === undefined || keeping.heldBytes > 0) return wrong(keeping.trouble ?? notYet(captured))
  else stored = await takeIn(keeping.path, captured.how)
  if (!stored.ok) return stored
  // It is in the store for good: a journal that cannot be removed is found again, and not stored twice.
  const problems = [...stored.value.problems]
  await keeping.discard().catch((error: unknown) => problems.push(notRemoved(keeping.path, error)))
  return fine({ ...stored.value, problems })
}

/** Puts a recording that is held whole into the store, and reads its specimen. */
export const storeMade = (
  store: DeskStore,
  captured: CapturedWhole,
  read: ReadSpecimen,
): Promise<Outcome<StoredCaptured>> =>
  storeBy(store, captured, read, {
    reading: ({ sha256 }) => hashed(captured.reading, sha256),
    save: about =>
      store.recordings.save({
        ...about,
        // The hash is that of the journal, which is what was received; the store works it out.
        recording: { ...captured.recording, sha256: '' },
        log: captured.log,
      }),
  })

/** A reading that was made before the hash of its journal was known. */
const hashed = (reading: Outcome<Reading>, sha256: string): Outcome<Reading> =>
  reading.ok ? fine({ ...reading.value, recording: withHash(reading.value.recording, sha256) }) : reading

interface Saving {
  /** Puts its samples into the store with what is known of it. */
  save(
    about: Omit<NewRecording, 'recording' | 'log'>,
  ): Promise<Outcome<{ readonly entry: RecordingEntry; readonly isNew: boolean }>>
  /** Of this recording alone. */
  reading(entry: RecordingEntry): Outcome<Reading>
}

/** What is done around the samples, however they are saved. `read`: `null` where it is not to be read now. */
export async function storeBy(
  store: DeskStore,
  captured: CapturedFacts,
  read: ReadSpecimen | null,
  { save, reading }: Saving,
): Promise<Outcome<StoredCaptured>> {
  const placed = await specimenOf(store, captured)
  if (!placed.ok) return placed
  const rig = await rigIdOf(store, captured.rig)
  const saved = await save({
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
  const counts = read !== null && placed.value !== null && !isGivenUp && saved.value.isNew
  const shown = counts ? await read(placed.value.id) : reading(entry)
  return fine({ entry, isNew: saved.value.isNew, reading: shown, problems })
}

/** The specimen that it is of, made where there is none of these names yet; `null`: it names none. */
async function specimenOf(
  store: DeskStore,
  { about: { study, variant, specimen, operator }, specimenId, elements }: CapturedFacts,
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
async function rigIdOf(store: DeskStore, rig: LineRig | null): Promise<Outcome<string | null>> {
  if (rig === null) return fine(null)
  const known = rig.id === null ? null : await store.rigs.get(rig.id)
  return known?.ok ? fine(known.value.id) : keepRig(store, rig.document)
}

const notYet = ({ source }: Captured): Problem => ({
  where: source,
  what: 'the disk has not taken all of the recording yet.',
  cure: 'It is tried again every few seconds.',
})

export const notRemoved = (path: string, error: unknown): Problem => ({
  where: path,
  what: `the recording is stored, but its journal could not be removed (${faultText(error)}).`,
  cure: 'Remove it by hand, or leave it: it is not stored twice.',
})
