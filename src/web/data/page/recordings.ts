import type { Recording } from '../../../core/recording.ts'
import { type LogOptions, startedAtOf, toldCapacityN } from '../../../logs/index.ts'
import type { Page, RecordingEntry } from '../../../server/apiTypes.ts'
import type { Engine } from '../../engine/types.ts'
import type { Backend } from '../backend.ts'
import { got } from '../trouble.ts'
import { found, type KeptEntry, laterThan, newId, nowIso, pageDb, pageSamples, writing } from './db.ts'
import { entriesOf, shown } from './entries.ts'
import { keepReading } from './readings.ts'
import { nextPlace, putAt, textFrom } from './rules.ts'

const USUAL_LIMIT = 100

export const pageRecordings = (engine: Engine): Backend['recordings'] => ({
  async list(query): Promise<Page<RecordingEntry>> {
    const all = (await entriesOf(query)).sort(newestFirst)
    const after = query.after === undefined ? -1 : all.findIndex(({ id }) => id === query.after)
    const items = all.slice(after + 1, after + 1 + (query.limit ?? USUAL_LIMIT))
    const last = items.at(-1)
    return { items, next: last !== undefined && last !== all.at(-1) ? last.id : null }
  },
  async bySha256(sha256) {
    const entry = await (await pageDb()).getFromIndex('recordings', 'sha256', sha256)
    return entry ? shown(entry) : null
  },
  async keep(log) {
    const recording = got(await engine.parse(log.bytes, log.name, log.options))
    void navigator.storage?.persist?.()
    const { bytes, options, specimenId, rigId } = log
    const named = { ...recording, name: log.name }
    const kept = await keepRecording({ recording: named, bytes, options, specimenId, rigId, live: null })
    const { entry, isNew } = kept
    if (isNew && entry.specimen) await keepReading(engine, entry.specimen.id).catch(() => {})
    return kept
  },
  samples: pageSamples,
  log: async id => found(await (await pageDb()).get('logs', id), 'recording', id).bytes,
  place: (id, specimenId, place) =>
    writing(['recordings', 'specimens'], async change => {
      const recordings = change.objectStore('recordings')
      const entry = { ...found(await recordings.get(id), 'recording', id), specimenId }
      if (specimenId !== null)
        found(await change.objectStore('specimens').get(specimenId), 'specimen', specimenId)
      const others = (await recordings.getAll()).filter(e => e.specimenId === specimenId && e.id !== id)
      const { placed, moved } =
        specimenId === null
          ? { placed: { ...entry, place: place ?? 0 }, moved: [] }
          : putAt(others, entry, place ?? others.length)
      for (const one of [placed, ...moved]) await recordings.put(one)
      return placed
    }).then(shown),
  setAside,
  takeBack: id => change(id, { setAside: null }),
})

/** A recording with its log, to be kept. */
interface NewKept {
  readonly recording: Recording
  readonly bytes: Uint8Array<ArrayBuffer>
  /** How the log was told to be read. */
  readonly options: LogOptions
  readonly specimenId: string | null
  readonly rigId: string | null
  /** What was captured here, and no log that was brought. `id`: its own; the same again is kept once. */
  readonly live: {
    readonly id: string | null
    readonly device: string
    readonly state: KeptEntry['state']
    readonly startedAt: string
  } | null
}

/**
 * A log, its samples and its entry: all of them or nothing. A log that is there already is not kept twice; two live
 * recordings with the same bytes are two pulls.
 */
export const keepRecording = ({
  recording,
  bytes,
  options,
  specimenId,
  rigId,
  live,
}: NewKept): Promise<{ entry: RecordingEntry; isNew: boolean }> =>
  writing(['recordings', 'samples', 'logs', 'specimens', 'rigs'], async change => {
    const recordings = change.objectStore('recordings')
    const known =
      live === null
        ? await recordings.index('sha256').get(recording.sha256)
        : live.id === null
          ? undefined
          : await recordings.get(live.id)
    if (known) return { entry: known, isNew: false }
    const specimens = change.objectStore('specimens')
    const specimen =
      specimenId === null ? null : found(await specimens.get(specimenId), 'specimen', specimenId)
    if (rigId !== null) found(await change.objectStore('rigs').get(rigId), 'rig', rigId)
    const all = await recordings.getAll()
    const { timeS, sha256 } = recording
    const entry: KeptEntry = {
      id: live?.id ?? newId(),
      name: recording.name,
      sha256,
      samples: timeS.length,
      logBytes: bytes.length,
      startedAt: live?.startedAt ?? startedAtOf(recording),
      addedAt: nowIso(),
      startS: timeS[0] ?? null,
      endS: timeS.at(-1) ?? null,
      forceUnit: recording.forceUnit ?? '',
      timeFrom: recording.timeFrom,
      source: live === null ? 'log' : 'live',
      device: live?.device ?? '',
      state: live?.state ?? 'complete',
      rigId,
      calibrationId: null,
      capacityN: toldCapacityN([options]),
      specimenId,
      place: specimenId === null ? 0 : nextPlace(all.filter(e => e.specimenId === specimenId)),
      setAside: null,
    }
    await recordings.add(entry)
    await change.objectStore('samples').add(recording, entry.id)
    await change.objectStore('logs').add({ bytes, options }, entry.id)
    if (specimen?.status === 'planned')
      await specimens.put({ ...specimen, status: 'pulled', updatedAt: laterThan(specimen.updatedAt) })
    return { entry, isNew: true }
  }).then(async ({ entry, isNew }) => ({ entry: await shown(entry), isNew }))

export const setAside = (id: string, why: string): Promise<RecordingEntry> =>
  change(id, { setAside: { at: nowIso(), why: textFrom('why', why) } })

const change = (id: string, patch: Partial<KeptEntry>): Promise<RecordingEntry> =>
  writing(['recordings'], async tx => {
    const recordings = tx.objectStore('recordings')
    const entry = { ...found(await recordings.get(id), 'recording', id), ...patch }
    await recordings.put(entry)
    return entry
  }).then(shown)

const newestFirst = (a: RecordingEntry, b: RecordingEntry): number =>
  a.addedAt === b.addedAt ? (a.id < b.id ? 1 : -1) : a.addedAt < b.addedAt ? 1 : -1
