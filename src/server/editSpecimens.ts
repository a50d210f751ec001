import { fine, type Outcome, type Problem } from '../core/problem.ts'
import type { Reading } from '../core/reading/document.ts'
import type { Edit, RecordingEntry, SpecimenEdit, Store } from '../store/index.ts'
import { keepReading, specimenFacts } from './specimenReading.ts'

/** A specimen whose reading an edit changed. `null`: there is none. */
export interface Reread {
  readonly specimen: string
  readonly before: Reading | null
  readonly after: Reading | null
}

export interface Edited {
  /** `null`: nothing came to change. */
  readonly edit: Edit | null
  readonly reread: readonly Reread[]
  /** Specimens that could not be read anew; the edit holds all the same. */
  readonly problems: readonly Problem[]
}

/** Changes specimens of a study as one edit, and reads anew those whose recordings, rig or facts are others by it. */
export async function editSpecimens(
  store: Store,
  studyId: string,
  steps: readonly SpecimenEdit[],
  by: { readonly who: string; readonly what: string },
): Promise<Outcome<Edited>> {
  const before = await asItIs(store, studyId)
  const edit = await store.edits.apply(studyId, steps, by)
  if (!edit.ok) return edit
  return fine({ edit: edit.value, ...(await readAnew(store, studyId, before, onNamedRig(steps))) })
}

/** Recordings whose rig is named: a rig that was theirs already may have been described or calibrated anew since they were read. */
const onNamedRig = (steps: readonly SpecimenEdit[]): ReadonlySet<string> =>
  new Set(steps.flatMap(step => (step.kind === 'rig' ? step.recordingIds : [])))

/** Takes an edit back, or does it again, and reads anew what is another by it. */
export async function turnEdit(
  store: Store,
  { id, studyId }: Pick<Edit, 'id' | 'studyId'>,
  way: 'back' | 'again',
): Promise<Outcome<Edited>> {
  const before = await asItIs(store, studyId)
  const edit = await (way === 'back' ? store.edits.takeBack(id) : store.edits.doAgain(id))
  if (!edit.ok) return edit
  return fine({ edit: edit.value, ...(await readAnew(store, studyId, before)) })
}

interface Before {
  readonly bases: ReadonlyMap<string, string>
  /** The newest of each specimen that has one. */
  readonly readings: ReadonlyMap<string, Reading>
}

async function asItIs(store: Store, studyId: string): Promise<Before> {
  const latest = await store.readings.latestOfStudy(studyId)
  return {
    bases: await basesOf(store, studyId),
    readings: new Map(latest.map(({ specimenId, reading }) => [specimenId ?? '', reading])),
  }
}

/** Changes what readings are made from (of a study, a variant), and reads anew what is another by it. */
export async function readingAnew<T>(
  store: Store,
  studyId: string,
  change: () => Promise<Outcome<T>>,
): Promise<Outcome<T>> {
  const before = await asItIs(store, studyId)
  const changed = await change()
  if (changed.ok) await readAnew(store, studyId, before)
  return changed
}

/** What the reading of each specimen is made from. */
async function basesOf(store: Store, studyId: string): Promise<Map<string, string>> {
  const bases = new Map<string, string>()
  const entries = await entriesOf(store, studyId)
  for (const specimen of await store.specimens.list(studyId)) {
    const own = entries
      .filter(entry => entry.specimen?.id === specimen.id)
      .sort((a, b) => a.place - b.place)
      .map(({ id, rigId, calibration }) => [id, rigId, calibration])
    const { typedPeak } = specimen
    // The day says which calibration of a rig counts.
    const pulledOn = own.some(([, rigId]) => rigId !== null) ? specimen.pulledOn : null
    bases.set(specimen.id, JSON.stringify([own, typedPeak, pulledOn, await specimenFacts(store, specimen)]))
  }
  return bases
}

async function readAnew(
  store: Store,
  studyId: string,
  before: Before,
  anyway: ReadonlySet<string> = new Set(),
): Promise<Pick<Edited, 'reread' | 'problems'>> {
  const reread: Reread[] = []
  const problems: Problem[] = []
  const entries = await entriesOf(store, studyId)
  for (const [id, base] of await basesOf(store, studyId)) {
    const own = entries.filter(entry => entry.specimen?.id === id)
    if (before.bases.get(id) === base && !own.some(entry => anyway.has(entry.id))) continue
    const specimen = await store.specimens.get(id)
    if (!specimen.ok) continue
    const was = before.readings.get(id) ?? null
    if (own.length === 0 && specimen.value.typedPeak === null) {
      if (was !== null) reread.push({ specimen: specimen.value.name, before: was, after: null })
      continue
    }
    const read = await keepReading(store, id)
    if (!read.ok) problems.push(...read.problems)
    reread.push({ specimen: specimen.value.name, before: was, after: read.ok ? read.value.reading : null })
  }
  return { reread, problems }
}

async function entriesOf(store: Store, studyId: string): Promise<RecordingEntry[]> {
  const entries: RecordingEntry[] = []
  let after: string | null = null
  do {
    const page: Awaited<ReturnType<Store['recordings']['list']>> = await store.recordings.list({
      studyId,
      limit: 1000,
      ...(after === null ? {} : { after }),
    })
    entries.push(...page.items)
    after = page.next
  } while (after !== null)
  return entries
}
