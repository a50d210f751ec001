import type { Recording, RecordingInBlocks } from '../../../core/recording.ts'
import { type LogOptions, startedAtOf, toldCapacityN } from '../../../logs/index.ts'
import type { Page, RecordingEntry } from '../../../server/apiTypes.ts'
import type { Engine } from '../../engine/types.ts'
import type { Backend } from '../backend.ts'
import { got } from '../trouble.ts'
import {
  found,
  type KeptEntry,
  laterThan,
  newId,
  nowIso,
  pageDb,
  pageLog,
  pageSamples,
  type Writing,
  writing,
} from './db.ts'
import { entriesOf, shown } from './entries.ts'
import { writeLong } from './longRecordings.ts'
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
    const { bytes, options, specimenId, rigId, calibration = null, startedAt = null } = log
    const named = { ...recording, name: log.name }
    const kept = await keepRecording({
      recording: named,
      bytes,
      options,
      specimenId,
      rigId,
      calibration,
      startedAt,
      live: null,
    })
    const { entry, isNew } = kept
    if (isNew && entry.specimen) await keepReading(engine, entry.specimen.id).catch(() => {})
    return kept
  },
  samples: pageSamples,
  log: async id => (await pageLog(id)).bytes,
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

/** Where a recording that is kept belongs. */
interface Placed {
  readonly specimenId: string | null
  readonly rigId: string | null
  readonly calibration: string | null
  /** What was captured here, and no log that was brought. `id`: its own; the same again is kept once. */
  readonly live: {
    readonly id: string | null
    readonly device: string
    readonly state: KeptEntry['state']
    readonly startedAt: string
  } | null
}

/** A recording with its log, to be kept. */
interface NewKept extends Placed {
  readonly recording: Recording
  readonly bytes: Uint8Array<ArrayBuffer>
  /** How the log was told to be read. */
  readonly options: LogOptions
  /** When a log began, where a person says what it does not. */
  readonly startedAt?: string | null
}

interface Kept {
  readonly entry: RecordingEntry
  readonly isNew: boolean
}

/**
 * A log, its samples and its entry: all of them or nothing. A log that is there already is not kept twice; two live
 * recordings with the same bytes are two pulls.
 */
export const keepRecording = ({
  recording,
  bytes,
  options,
  startedAt = null,
  ...placed
}: NewKept): Promise<Kept> =>
  keepEntry(
    placed,
    {
      name: recording.name,
      sha256: recording.sha256,
      samples: recording.timeS.length,
      logBytes: bytes.length,
      startedAt: placed.live?.startedAt ?? startedAt ?? startedAtOf(recording),
      startS: recording.timeS[0] ?? null,
      endS: recording.timeS.at(-1) ?? null,
      forceUnit: recording.forceUnit ?? '',
      timeFrom: recording.timeFrom,
      capacityN: toldCapacityN([options]),
    },
    async (change, id) => {
      await change.objectStore('samples').add(recording, id)
      await change.objectStore('logs').add({ bytes, options }, id)
    },
  )

/** A live recording that is too long to be held whole: written block by block, and then its entry. */
export async function keepLong({
  recording,
  log,
  options,
  live,
  ...placed
}: Omit<Placed, 'live'> & {
  readonly recording: RecordingInBlocks
  readonly log: AsyncIterable<Uint8Array>
  readonly options: LogOptions
  readonly live: NonNullable<Placed['live']> & { readonly id: string }
}): Promise<Kept> {
  const known = await (await pageDb()).get('recordings', live.id)
  if (known) return { entry: await shown(known), isNew: false }
  const head = await writeLong(live.id, recording, log, options)
  return keepEntry(
    { ...placed, live },
    {
      name: head.recording.name,
      sha256: head.recording.sha256,
      samples: head.samples,
      logBytes: head.logBytes,
      startedAt: live.startedAt,
      startS: head.startS,
      endS: head.endS,
      forceUnit: head.recording.forceUnit ?? '',
      timeFrom: head.recording.timeFrom,
      capacityN: toldCapacityN([options]),
    },
    async () => {},
  )
}

/** What an entry says of the recording itself. */
type Facts = Pick<
  KeptEntry,
  | ('name' | 'sha256' | 'samples' | 'logBytes' | 'startedAt')
  | ('startS' | 'endS' | 'forceUnit' | 'timeFrom' | 'capacityN')
>

const ENTRY_STORES = ['recordings', 'samples', 'logs', 'specimens', 'rigs'] as const

/** `put` writes what goes with the entry, in the same transaction. */
const keepEntry = (
  { specimenId, rigId, calibration, live }: Placed,
  facts: Facts,
  put: (change: Writing<(typeof ENTRY_STORES)[number]>, id: string) => Promise<void>,
): Promise<Kept> =>
  writing(ENTRY_STORES, async change => {
    const recordings = change.objectStore('recordings')
    const known =
      live === null
        ? await recordings.index('sha256').get(facts.sha256)
        : live.id === null
          ? undefined
          : await recordings.get(live.id)
    if (known) return { entry: known, isNew: false }
    const specimens = change.objectStore('specimens')
    const specimen =
      specimenId === null ? null : found(await specimens.get(specimenId), 'specimen', specimenId)
    if (rigId !== null) found(await change.objectStore('rigs').get(rigId), 'rig', rigId)
    const all = await recordings.getAll()
    const entry: KeptEntry = {
      ...facts,
      id: live?.id ?? newId(),
      addedAt: nowIso(),
      source: live === null ? 'log' : 'live',
      device: live?.device ?? '',
      state: live?.state ?? 'complete',
      rigId,
      calibrationId: null,
      calibration: rigId === null ? null : calibration,
      specimenId,
      place: specimenId === null ? 0 : nextPlace(all.filter(e => e.specimenId === specimenId)),
      setAside: null,
    }
    await recordings.add(entry)
    await put(change, entry.id)
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
