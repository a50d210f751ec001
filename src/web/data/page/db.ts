import type { DBSchema, IDBPDatabase, IDBPTransaction, StoreNames } from 'idb'
import { faultText } from '../../../core/problem.ts'
import type { Recording } from '../../../core/recording.ts'
import type { LogOptions } from '../../../logs/index.ts'
import type {
  DailyCheck,
  Edit,
  Photo,
  RecordingEntry,
  Rig,
  Specimen,
  StoredCalibration,
  StoredNote,
  StoredReading,
  Study,
  Variant,
} from '../../../server/apiTypes.ts'
import { Trouble } from '../trouble.ts'
import { connection } from './connection.ts'
import { longSamples, wholeLongLog } from './longRecordings.ts'

/** A recording as the page keeps it; the names of its study and specimen are looked up when it is shown. */
export type KeptEntry = Omit<RecordingEntry, 'study' | 'specimen'> & { readonly specimenId: string | null }

/** A specimen as the page keeps it: one that was removed is out of sight and of every figure, and can be brought back. */
export type KeptSpecimen = Specimen & { readonly removedAt?: string | null }

export type KeptRow = Readonly<Record<string, unknown>>

/** One row as it was and as it is; `null` where there was or is none. Of a recording only what may change. */
export interface RowChange {
  readonly table: 'variants' | 'specimens' | 'recordings'
  readonly id: string
  readonly before: KeptRow | null
  readonly after: KeptRow | null
}

/** An edit with the rows before and after. */
export interface KeptEdit extends Edit {
  readonly changes: readonly RowChange[]
}

/** The page's own storage. A change of shape is a further step in `upgrade`, never a change of an older one. */
export interface PageDb extends DBSchema {
  studies: { key: string; value: Study }
  variants: { key: string; value: Variant; indexes: { studyId: string } }
  specimens: { key: string; value: KeptSpecimen; indexes: { studyId: string } }
  edits: { key: string; value: KeptEdit; indexes: { studyId: string } }
  recordings: { key: string; value: KeptEntry; indexes: { sha256: string } }
  /** By the recording's id: written once, never changed. */
  samples: { key: string; value: Recording }
  logs: { key: string; value: { readonly bytes: Uint8Array<ArrayBuffer>; readonly options: LogOptions } }
  readings: { key: string; value: StoredReading; indexes: { specimenId: string } }
  rigs: { key: string; value: Rig }
  calibrations: { key: string; value: StoredCalibration }
  checks: { key: string; value: DailyCheck }
  notes: { key: string; value: StoredNote }
  photos: { key: string; value: Photo }
  pictures: { key: string; value: Blob }
  settings: { key: string; value: unknown }
}

const NAME = 'tenterhook'
const VERSION = 2

const connect = connection<PageDb>(NAME, VERSION, (db, from) => {
  if (from < 1) first(db)
  // What was changed of specimens, as a list that can be taken back.
  db.createObjectStore('edits', { keyPath: 'id' }).createIndex('studyId', 'studyId')
})

/** The one connection of this window or thread. @throws Trouble where the browser keeps nothing for this page */
export async function pageDb(): Promise<IDBPDatabase<PageDb>> {
  try {
    return await connect()
  } catch (error) {
    throw new Trouble([
      {
        where: "the browser's own storage",
        what: isNewer(error)
          ? 'a newer Tenterhook has written in it.'
          : `it cannot be used (${faultText(error)}).`,
        cure: isNewer(error)
          ? 'Open the newer page: this one could not read it rightly.'
          : 'Leave private browsing, allow this page to keep data, or free some space.',
      },
    ])
  }
}

/** Version 1. */
function first(db: IDBPDatabase<PageDb>): void {
  db.createObjectStore('studies', { keyPath: 'id' })
  db.createObjectStore('variants', { keyPath: 'id' }).createIndex('studyId', 'studyId')
  db.createObjectStore('specimens', { keyPath: 'id' }).createIndex('studyId', 'studyId')
  db.createObjectStore('recordings', { keyPath: 'id' }).createIndex('sha256', 'sha256')
  db.createObjectStore('samples')
  db.createObjectStore('logs')
  db.createObjectStore('readings', { keyPath: 'id' }).createIndex('specimenId', 'specimenId')
  for (const name of ['rigs', 'calibrations', 'checks', 'notes', 'photos'] as const)
    db.createObjectStore(name, { keyPath: 'id' })
  db.createObjectStore('pictures')
  db.createObjectStore('settings')
}

type Name = StoreNames<PageDb>
export type Writing<N extends Name> = IDBPTransaction<PageDb, N[], 'readwrite'>

/**
 * A change of these stores in one transaction: all of it or nothing, whether the page is closed in the middle, `work`
 * throws, or another window writes at the same time. `work` may await nothing but the transaction's own requests.
 */
export async function writing<N extends Name, R>(
  stores: readonly N[],
  work: (change: Writing<N>) => Promise<R>,
): Promise<R> {
  const change = (await pageDb()).transaction([...stores], 'readwrite', { durability: 'strict' })
  // Heard below; here only so that an aborted one is no fault of the page's.
  change.done.catch(() => {})
  try {
    const result = await work(change)
    await change.done
    return result
  } catch (error) {
    abort(change)
    throw error instanceof DOMException && error.name === 'QuotaExceededError' ? fullStorage() : error
  }
}

function abort(change: { abort(): void }): void {
  try {
    change.abort()
  } catch {
    // It has ended by itself, and nothing was written.
  }
}

const fullStorage = (): Trouble =>
  new Trouble([
    {
      where: "the browser's own storage",
      what: 'it is full, so nothing was written.',
      cure: 'Free some space on this device, then do it again. What was kept before is still there.',
    },
  ])

const isNewer = (error: unknown): boolean => error instanceof DOMException && error.name === 'VersionError'

/** The samples of a recording. For the engine's thread too. */
export async function pageSamples(id: string): Promise<Recording> {
  return found((await (await pageDb()).get('samples', id)) ?? (await longSamples(id)), 'recording', id)
}

/** The log of a recording, with how it is to be read. */
export async function pageLog(id: string): Promise<PageDb['logs']['value']> {
  return found((await (await pageDb()).get('logs', id)) ?? (await wholeLongLog(id)), 'recording', id)
}

export const notThere = (kind: string, id: string) => ({
  where: `${kind} “${id}”`,
  what: 'it is not in the storage of this browser.',
  cure: 'Go back to the shelf: it may have been removed in another window.',
})

/** What was found. @throws Trouble where it was not */
export function found<T>(value: T | undefined, kind: string, id: string): T {
  if (value === undefined) throw new Trouble([notThere(kind, id)])
  return value
}

const ALPHABET = '0123456789abcdefghjkmnpqrstvwxyz'

/** Ten characters of the alphabet that the store uses too. */
export const newId = (): string =>
  Array.from(crypto.getRandomValues(new Uint8Array(10)), byte => ALPHABET[byte & 31]).join('')

export const nowIso = (): string => new Date().toISOString()

/** Now, but after `before`: two changes within one millisecond still differ, whatever the clock does. */
export const laterThan = (before: string | undefined): string => {
  const now = nowIso()
  return before === undefined || now > before ? now : new Date(Date.parse(before) + 1).toISOString()
}
