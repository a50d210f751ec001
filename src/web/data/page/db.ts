import { type DBSchema, type IDBPDatabase, openDB } from 'idb'
import type { Recording } from '../../../core/recording.ts'
import type { LogOptions } from '../../../logs/index.ts'
import type {
  DailyCheck,
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

/** A recording as the page keeps it; the names of its study and specimen are looked up when it is shown. */
export type KeptEntry = Omit<RecordingEntry, 'study' | 'specimen'> & { readonly specimenId: string | null }

/** The page's own storage, version 1. A change of shape is a further step in `upgrade`, never a change of this one. */
export interface PageDb extends DBSchema {
  studies: { key: string; value: Study }
  variants: { key: string; value: Variant; indexes: { studyId: string } }
  specimens: { key: string; value: Specimen; indexes: { studyId: string } }
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
const VERSION = 1

let opened: Promise<IDBPDatabase<PageDb>> | null = null

/** The one connection of this window or thread. @throws Trouble where the browser keeps nothing for this page */
export async function pageDb(): Promise<IDBPDatabase<PageDb>> {
  opened ??= openDB<PageDb>(NAME, VERSION, {
    upgrade(db) {
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
    },
    // A newer page in another window wants to change the shape: let it, and open anew at the next call.
    blocking: (_current, _wanted, event) => {
      ;(event.target as IDBDatabase).close()
      opened = null
    },
    terminated: () => {
      opened = null
    },
  })
  try {
    return await opened
  } catch (error) {
    opened = null
    throw new Trouble([
      {
        where: "the browser's own storage",
        what: `it cannot be used (${error instanceof Error ? error.message : String(error)}).`,
        cure: 'Leave private browsing, allow this page to keep data, or free some space.',
      },
    ])
  }
}

/** The samples of a recording. For the engine's thread too. */
export async function pageSamples(id: string): Promise<Recording> {
  const recording = await (await pageDb()).get('samples', id)
  if (!recording) throw new Trouble([notThere('recording', id)])
  return recording
}

export const notThere = (kind: string, id: string) => ({
  where: `${kind} ${id}`,
  what: 'it is not in the storage of this browser.',
  cure: 'Go back to the shelf: it may have been removed in another window.',
})

const ALPHABET = '0123456789abcdefghjkmnpqrstvwxyz'

/** Ten characters of the alphabet that the store uses too. */
export const newId = (): string =>
  Array.from(crypto.getRandomValues(new Uint8Array(10)), byte => ALPHABET[byte & 31]).join('')

export const nowIso = (): string => new Date().toISOString()
