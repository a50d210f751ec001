import { parseRig, type Rig } from '../core/calibration/rig.ts'
import { fine, type Outcome, type Problem, problemText, wrong } from '../core/problem.ts'
import {
  composedStudy,
  type KeptRecording,
  type KeptSpecimen,
  mostUsedRig,
  type PublishOptions,
} from '../publish/study/compose.ts'
import type { PublishedPhoto, PublishedStudy, Remark } from '../publish/study/study.ts'
import type { RecordingEntry, Specimen, Store, StoredReading, Study, Subject } from '../store/index.ts'
import { recordingOf } from './specimenReading.ts'

/** A study by its id or its name. */
export async function studyOf(store: Store, nameOrId: string): Promise<Outcome<Study>> {
  const byId = await store.studies.get(nameOrId)
  if (byId.ok) return byId
  const byName = await store.studies.byName(nameOrId)
  if (byName) return fine(byName)
  const names = (await store.studies.list()).slice(0, 12).map(study => `“${study.name}”`)
  return wrong({
    where: `study “${nameOrId}”`,
    what: 'the store has no study of that name or id.',
    cure: names.length > 0 ? `Its studies are ${names.join(', ')}.` : 'It has no study yet: import one.',
  })
}

/**
 * A study of the store as it is told to others: the newest reading of each specimen, their recordings, the rig that
 * most of them were made on, checks, notes and photos. The bytes of logs and photos are read when they are asked for,
 * so the store must stay open until then. Problems: no such study, a damaged recording, a rig that cannot be read.
 */
export async function publishedStudy(
  store: Store,
  nameOrId: string,
  options: PublishOptions = {},
): Promise<Outcome<PublishedStudy>> {
  const found = await studyOf(store, nameOrId)
  if (!found.ok) return found
  const study = found.value
  const rigs = rigShelf(store)
  const readings = new Map(
    (await store.readings.latestOfStudy(study.id)).map(one => [one.specimenId ?? '', one]),
  )
  const recordings = await recordingsOf(store, study.id)
  const specimens: KeptSpecimen[] = []
  const problems: Problem[] = []
  for (const specimen of await store.specimens.list(study.id)) {
    const kept = await keptSpecimen(store, specimen, {
      reading: readings.get(specimen.id) ?? null,
      entries: recordings.get(specimen.id) ?? [],
      rigs,
    })
    if (kept.ok) specimens.push(kept.value)
    else problems.push(...kept.problems)
  }
  if (problems.length > 0) return { ok: false, problems }
  const rigId = mostUsedRig([...recordings.values()].flat())
  const rig = rigId === null ? fine(null) : await rigs(rigId)
  if (!rig.ok) return rig
  const subject = { kind: 'study', id: study.id } as const
  return fine(
    composedStudy(
      {
        head: study,
        variants: await store.variants.list(study.id),
        specimens,
        rig: rig.value,
        checks: rigId === null ? [] : (await store.checks.list(rigId)).map(({ document }) => document),
        remarks: await remarksOn(store, subject),
        photos: await photosOf(store, subject),
      },
      options,
    ),
  )
}

interface SpecimenParts {
  readonly reading: StoredReading | null
  readonly entries: readonly RecordingEntry[]
  readonly rigs: RigShelf
}

async function keptSpecimen(
  store: Store,
  specimen: Specimen,
  { reading, entries, rigs }: SpecimenParts,
): Promise<Outcome<KeptSpecimen>> {
  const counting = entries.filter(entry => entry.setAside === null)
  const joined = counting.length === 0 ? null : await recordingOf(store, counting, specimen.pulledOn)
  if (joined !== null && !joined.ok && reading !== null) return joined
  const rigId = counting.find(entry => entry.rigId !== null)?.rigId ?? null
  const rig = rigId === null ? fine(null) : await rigs(rigId)
  if (!rig.ok) return rig
  const subject = { kind: 'specimen', id: specimen.id } as const
  const ofLogs = await Promise.all(entries.map(({ id }) => remarksOn(store, { kind: 'recording', id })))
  return fine({
    ...specimen,
    reading: reading?.reading ?? null,
    recordings: await Promise.all(entries.map(entry => keptRecording(store, entry))),
    recording: joined?.ok ? joined.value.recording : null,
    ...(joined?.ok === false ? { unread: joined.problems[0]! } : {}),
    rig: rig.value,
    remarks: [...(await remarksOn(store, subject)), ...ofLogs.flat()],
    photos: await photosOf(store, subject),
  })
}

async function keptRecording(store: Store, entry: RecordingEntry): Promise<KeptRecording> {
  const options = await store.recordings.logOptions(entry.id)
  return {
    ...entry,
    options: options.ok ? options.value : {},
    bytes: () => wholeOf(store.recordings.log(entry.id)),
  }
}

type RigShelf = (rigId: string) => Promise<Outcome<Rig>>

/** Rigs of the store, each read once. */
function rigShelf(store: Store): RigShelf {
  const known = new Map<string, Promise<Outcome<Rig>>>()
  const open = async (rigId: string): Promise<Outcome<Rig>> => {
    const stored = await store.rigs.get(rigId)
    return stored.ok ? parseRig(JSON.stringify(stored.value.document), `rig “${stored.value.name}”`) : stored
  }
  return rigId => {
    const rig = known.get(rigId) ?? open(rigId)
    known.set(rigId, rig)
    return rig
  }
}

/** The recordings of each specimen of a study in the order in which they are joined, those set aside too. */
async function recordingsOf(store: Store, studyId: string): Promise<Map<string, RecordingEntry[]>> {
  const found = new Map<string, RecordingEntry[]>()
  let after: string | null = null
  do {
    const page: Awaited<ReturnType<Store['recordings']['list']>> = await store.recordings.list({
      studyId,
      withSetAside: true,
      limit: 1000,
      ...(after === null ? {} : { after }),
    })
    for (const entry of page.items) {
      const id = entry.specimen?.id ?? ''
      found.set(
        id,
        [...(found.get(id) ?? []), entry].sort((a, b) => a.place - b.place),
      )
    }
    after = page.next
  } while (after !== null)
  return found
}

const remarksOn = async (store: Store, subject: Subject): Promise<Remark[]> =>
  (await store.notes.list(subject)).map(({ text, operator, madeAt }) => ({ text, operator, at: madeAt }))

async function photosOf(store: Store, subject: Subject): Promise<PublishedPhoto[]> {
  const photos = await store.photos.list(subject)
  return photos.map(({ id, name, caption, mime }) => ({
    name,
    caption,
    mime,
    bytes: async () => {
      const loaded = await store.photos.load(id)
      if (!loaded.ok) throw new Error(loaded.problems.map(problemText).join(' '))
      return loaded.value.content
    },
  }))
}

async function wholeOf(pieces: AsyncIterable<Uint8Array>): Promise<Uint8Array> {
  const all: Uint8Array[] = []
  for await (const piece of pieces) all.push(piece)
  return Uint8Array.from(Buffer.concat(all))
}
