import type { Page, RecordingEntry, Specimen, StoredReading } from '../../../server/apiTypes.ts'
import type { Engine } from '../../engine/types.ts'
import type { Backend, NewLog, RecordingQuery } from '../backend.ts'
import { got, Trouble } from '../trouble.ts'
import { type KeptEntry, newId, notThere, nowIso, pageDb, pageSamples } from './db.ts'

const MOST = 200

export const pageRecordings = (engine: Engine): Backend['recordings'] => ({
  async list(query): Promise<Page<RecordingEntry>> {
    const all = (await entriesOf(query)).sort((a, b) => (a.addedAt < b.addedAt ? 1 : -1))
    const from = query.after === undefined ? 0 : Number(query.after)
    const to = from + (query.limit ?? MOST)
    return { items: all.slice(from, to), next: to < all.length ? String(to) : null }
  },
  async bySha256(sha256) {
    const db = await pageDb()
    const entry = await db.getFromIndex('recordings', 'sha256', sha256)
    return entry ? shown(entry) : null
  },
  async keep(log) {
    const recording = got(await engine.parse(log.bytes, log.name, log.options))
    const known = await this.bySha256(recording.sha256)
    if (known) return { entry: known, isNew: false }
    const entry = await newEntry(log, recording)
    const db = await pageDb()
    // One transaction: a page closed in the middle keeps all of it or nothing.
    const change = db.transaction(['recordings', 'samples', 'logs'], 'readwrite')
    await change.objectStore('recordings').add(entry)
    await change.objectStore('samples').add(recording, entry.id)
    await change.objectStore('logs').add({ bytes: log.bytes, options: log.options }, entry.id)
    await change.done
    return { entry: await shown(entry), isNew: true }
  },
  samples: pageSamples,
  async log(id) {
    const log = await (await pageDb()).get('logs', id)
    if (!log) throw new Trouble([notThere('recording', id)])
    return log.bytes
  },
  async place(id, specimenId, place) {
    const db = await pageDb()
    const others = (await db.getAll('recordings')).filter(e => e.specimenId === specimenId && e.id !== id)
    const entry = { ...(await entryOf(id)), specimenId, place: place ?? nextPlace(others) }
    const ordered = [...others].sort((a, b) => a.place - b.place).toSpliced(entry.place, 0, entry)
    const change = db.transaction('recordings', 'readwrite')
    for (const [at, one] of ordered.entries()) await change.store.put({ ...one, place: at })
    await change.done
    return shown({ ...entry, place: ordered.indexOf(entry) })
  },
  setAside: (id, why) => put(id, { setAside: { at: nowIso(), why } }),
  takeBack: id => put(id, { setAside: null }),
})

async function newEntry(
  { name, bytes, specimenId, rigId }: NewLog,
  {
    sha256,
    timeS,
    forceUnit,
    timeFrom,
  }: { sha256: string; timeS: Float64Array; forceUnit: string; timeFrom: string },
): Promise<KeptEntry> {
  const others = (await (await pageDb()).getAll('recordings')).filter(e => e.specimenId === specimenId)
  return {
    id: newId(),
    name,
    sha256,
    samples: timeS.length,
    logBytes: bytes.length,
    startedAt: null,
    addedAt: nowIso(),
    startS: timeS[0] ?? null,
    endS: timeS.at(-1) ?? null,
    forceUnit,
    timeFrom,
    source: 'log',
    device: '',
    state: 'complete',
    rigId,
    calibrationId: null,
    specimenId,
    place: specimenId === null ? 0 : nextPlace(others),
    setAside: null,
  }
}

const nextPlace = (others: readonly KeptEntry[]): number => Math.max(-1, ...others.map(e => e.place)) + 1

async function put(id: string, change: Partial<KeptEntry>): Promise<RecordingEntry> {
  const entry = { ...(await entryOf(id)), ...change }
  await (await pageDb()).put('recordings', entry)
  return shown(entry)
}

async function entryOf(id: string): Promise<KeptEntry> {
  const entry = await (await pageDb()).get('recordings', id)
  if (!entry) throw new Trouble([notThere('recording', id)])
  return entry
}

/** With the names of its study and specimen. */
async function shown({ specimenId, ...entry }: KeptEntry): Promise<RecordingEntry> {
  const db = await pageDb()
  const specimen = specimenId === null ? undefined : await db.get('specimens', specimenId)
  const study = specimen ? await db.get('studies', specimen.studyId) : undefined
  return {
    ...entry,
    specimen: specimen ? { id: specimen.id, name: specimen.name } : null,
    study: study ? { id: study.id, name: study.name } : null,
  }
}

/** All that a query asks for, in the order of their places. */
export async function entriesOf(query: RecordingQuery): Promise<RecordingEntry[]> {
  const words = (query.search ?? '').toLowerCase().split(/\s+/).filter(Boolean)
  const all = await Promise.all((await (await pageDb()).getAll('recordings')).map(shown))
  return all
    .filter(entry => {
      const said = [entry.name, entry.specimen?.name, entry.study?.name, entry.device, entry.id, entry.sha256]
      const text = said.join(' ').toLowerCase()
      return (
        (query.studyId === undefined || entry.study?.id === query.studyId) &&
        (query.specimenId === undefined || entry.specimen?.id === query.specimenId) &&
        (query.loose !== true || entry.specimen === null) &&
        (query.withSetAside === true || entry.setAside === null) &&
        words.every(word => text.includes(word))
      )
    })
    .sort((a, b) => a.place - b.place)
}

/** Newest first. */
export async function historyOf(specimenId: string): Promise<StoredReading[]> {
  const readings = await (await pageDb()).getAllFromIndex('readings', 'specimenId', specimenId)
  return readings.sort((a, b) => (a.madeAt < b.madeAt ? 1 : -1))
}

export async function newestReadings(specimens: readonly Specimen[]): Promise<StoredReading[]> {
  const histories = await Promise.all(specimens.map(specimen => historyOf(specimen.id)))
  return histories.flatMap(([newest]) => (newest ? [newest] : []))
}
