import { parseRig, type Rig } from '../../../core/calibration/rig.ts'
import { fine, type Outcome, type Problem } from '../../../core/problem.ts'
import type { Recording } from '../../../core/recording.ts'
import {
  type KeptRecording,
  type KeptSpecimen,
  type KeptStudy,
  mostUsedRig,
} from '../../../publish/study/compose.ts'
import type { PublishedPhoto, Remark } from '../../../publish/study/study.ts'
import type { RecordingEntry, Specimen } from '../../../server/apiTypes.ts'
import type { Backend, OpenStudy, Subject } from '../../data/backend.ts'
import { loadSpecimen } from '../../engine/loadSpecimen.ts'
import { specimenSource } from '../../engine/specimenSource.ts'

/** Where what belongs to a study is fetched from: the server, or the page's own storage. */
export interface TellSource {
  readonly samples: (recordingId: string) => Promise<Recording>
  readonly log: (recordingId: string) => Promise<Uint8Array>
  /** How a log was told to be read, for a package; the server makes packages itself. */
  readonly logOptions: (recordingId: string) => Promise<object>
  readonly rigs: Backend['rigs']['list']
  readonly checks: Backend['checks']['list']
  readonly notes: Backend['notes']['list']
  readonly photos: Backend['photos']['list']
  readonly photo: Backend['photos']['content']
}

/** An open study with all that belongs to it. Problems: a recording or a rig that cannot be read. */
export async function gatheredStudy(open: OpenStudy, source: TellSource): Promise<Outcome<KeptStudy>> {
  const rigs = await source.rigs()
  const rigOf = (id: string | null): Outcome<Rig | null> => {
    const found = rigs.find(one => one.id === id)
    return found ? parseRig(JSON.stringify(found.document), `rig “${found.name}”`) : fine(null)
  }
  const kept = await Promise.all(
    open.specimens.map(specimen => keptSpecimen(open, specimen, { source, rigs, rigOf })),
  )
  const problems: Problem[] = kept.flatMap(one => (one.ok ? [] : one.problems))
  if (problems.length > 0) return { ok: false, problems }
  const rigId = mostUsedRig(open.recordings)
  const rig = rigOf(rigId)
  if (!rig.ok) return rig
  const subject = { kind: 'study', id: open.study.id } as const
  return fine({
    head: open.study,
    variants: open.variants,
    specimens: kept.flatMap(one => (one.ok ? [one.value] : [])),
    rig: rig.value,
    checks: rigId === null ? [] : (await source.checks(rigId)).map(({ document }) => document),
    remarks: await remarksOn(source, subject),
    photos: await photosOf(source, subject),
  })
}

interface Fetched {
  readonly source: TellSource
  readonly rigs: Awaited<ReturnType<TellSource['rigs']>>
  readonly rigOf: (id: string | null) => Outcome<Rig | null>
}

async function keptSpecimen(
  open: OpenStudy,
  specimen: Specimen,
  { source, rigs, rigOf }: Fetched,
): Promise<Outcome<KeptSpecimen>> {
  const entries = open.recordings
    .filter(entry => entry.specimen?.id === specimen.id)
    .sort((a, b) => a.place - b.place)
  const reading = open.readings.find(one => one.specimenId === specimen.id)?.reading ?? null
  const asked = specimenSource(open, specimen.id, rigs)
  const joined = asked === null ? null : await loadSpecimen(asked.source, source.samples)
  if (joined !== null && !joined.ok && reading !== null) return joined
  const rig = rigOf(entries.find(entry => entry.setAside === null && entry.rigId !== null)?.rigId ?? null)
  if (!rig.ok) return rig
  const subject = { kind: 'specimen', id: specimen.id } as const
  const ofLogs = await Promise.all(entries.map(({ id }) => remarksOn(source, { kind: 'recording', id })))
  return fine({
    ...specimen,
    reading,
    recordings: await Promise.all(entries.map(entry => keptRecording(source, entry))),
    recording: joined?.ok ? joined.value.recording : null,
    ...(joined?.ok === false ? { unread: joined.problems[0]! } : {}),
    rig: rig.value,
    remarks: [...(await remarksOn(source, subject)), ...ofLogs.flat()],
    photos: await photosOf(source, subject),
  })
}

const keptRecording = async (source: TellSource, entry: RecordingEntry): Promise<KeptRecording> => ({
  ...entry,
  options: await source.logOptions(entry.id),
  bytes: () => source.log(entry.id),
})

const remarksOn = async (source: TellSource, subject: Subject): Promise<Remark[]> =>
  (await source.notes(subject)).map(({ text, operator, madeAt }) => ({ text, operator, at: madeAt }))

const photosOf = async (source: TellSource, subject: Subject): Promise<PublishedPhoto[]> =>
  (await source.photos(subject)).map(({ id, name, caption, mime }) => ({
    name,
    caption,
    mime,
    bytes: async () => new Uint8Array(await (await source.photo(id)).arrayBuffer()),
  }))
