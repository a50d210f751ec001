import type { DBSchema } from 'idb'
import { connection } from '../data/page/connection.ts'

/**
 * Journals of recordings in the browser's storage, beside the studies and not among them: a change of shape there never
 * keeps a journal from being written. Version 1; a change of shape is a further step in `upgrade`.
 */
export interface JournalDb extends DBSchema {
  journals: { key: string; value: { readonly path: string; readonly touchedMs: number } }
  /** Pieces of a journal by its path and where they begin in it. */
  pieces: { key: [path: string, from: number]; value: Uint8Array<ArrayBuffer> }
}

export const journalDb = connection<JournalDb>('tenterhook-journals', 1, db => {
  db.createObjectStore('journals', { keyPath: 'path' })
  db.createObjectStore('pieces')
})

/** All pieces of a journal, or those from a place on. */
export const piecesOf = (path: string, from = 0): IDBKeyRange =>
  IDBKeyRange.bound([path, from], [path, Number.POSITIVE_INFINITY])
