import type { IDBPTransaction } from 'idb'
import type { FileLayer, GrowingFile } from '../../capture/journal/files.ts'
import { joined } from '../../capture/journal/frames.ts'
import { type JournalDb, journalDb, piecesOf } from './journalDb.ts'

/**
 * The disk of a page: journals as pieces in IndexedDB. What is appended waits in memory until the next sync, which writes
 * it as one piece with strict durability, so that it is on the disk itself once the sync is done; the journal syncs every
 * 50 ms. A lock of the browser's tells other windows that a journal is in use; it goes with the
 * window, however that ends.
 */
export const pageFiles: FileLayer = {
  makeFolder: async () => {
    await systemWords(journalDb())
  },
  async freeBytes() {
    const { quota, usage } = await navigator.storage.estimate()
    return quota === undefined || usage === undefined ? null : quota - usage
  },
  create: (path, keepBytes) => systemWords(create(path, keepBytes)),
  read: (path, most) => systemWords(read(path, most)),
  list: async folder => {
    const paths = await systemWords((async () => (await journalDb()).getAllKeys('journals'))())
    return paths.filter(path => path.startsWith(`${folder}/`)).map(path => path.slice(folder.length + 1))
  },
  async ageMs(path) {
    const journal = await systemWords((async () => (await journalDb()).get('journals', path))())
    if (!journal) throw fault('ENOENT')
    return Date.now() - journal.touchedMs
  },
  rename: (from, to) => systemWords(rename(from, to)),
  remove: path => systemWords(remove(path)),
}

async function create(path: string, keepBytes: number): Promise<GrowingFile> {
  await hold(path)
  let length = await cutBack(path, keepBytes)
  let waiting: Uint8Array[] = []
  return {
    async append(bytes) {
      waiting.push(bytes)
      return bytes.length
    },
    async sync() {
      const piece = joined(waiting) as Uint8Array<ArrayBuffer>
      waiting = []
      if (piece.length === 0) return
      await systemWords(
        changing(async change => {
          await change.objectStore('pieces').add(piece, [path, length])
          await change.objectStore('journals').put({ path, touchedMs: Date.now() })
        }),
      )
      length += piece.length
    },
    async touch() {
      await (await journalDb()).put('journals', { path, touchedMs: Date.now() })
    },
    async close() {
      waiting = []
    },
  }
}

/** Makes the journal, or leaves only its first bytes; gives their number. */
const cutBack = (path: string, keepBytes: number): Promise<number> =>
  changing(async change => {
    const pieces = change.objectStore('pieces')
    let length = 0
    for (const [, from] of await pieces.getAllKeys(piecesOf(path))) {
      const piece = (await pieces.get([path, from])) ?? new Uint8Array()
      if (from >= keepBytes) await pieces.delete([path, from])
      else if (from + piece.length > keepBytes)
        await pieces.put(piece.slice(0, keepBytes - from), [path, from])
      length = Math.min(keepBytes, from + piece.length)
    }
    if (length < keepBytes) throw fault('ESHRUNK')
    await change.objectStore('journals').put({ path, touchedMs: Date.now() })
    return length
  })

async function read(path: string, most = Number.POSITIVE_INFINITY): Promise<Uint8Array> {
  const change = (await journalDb()).transaction(['journals', 'pieces'])
  if (!(await change.objectStore('journals').getKey(path))) throw fault('ENOENT')
  if (most === Number.POSITIVE_INFINITY)
    return joined(await change.objectStore('pieces').getAll(piecesOf(path)))
  const pieces: Uint8Array[] = []
  let length = 0
  let cursor = await change.objectStore('pieces').openCursor(piecesOf(path))
  for (; cursor !== null && length < most; cursor = await cursor.continue()) {
    pieces.push(cursor.value)
    length += cursor.value.length
  }
  return joined(pieces).subarray(0, most)
}

async function rename(from: string, to: string): Promise<void> {
  const bytes = await read(from)
  await changing(async change => {
    await change.objectStore('pieces').delete(piecesOf(from))
    await change.objectStore('journals').delete(from)
    await change.objectStore('pieces').put(bytes.slice(), [to, 0])
    await change.objectStore('journals').put({ path: to, touchedMs: Date.now() })
  })
  letGo(from)
}

async function remove(path: string): Promise<void> {
  await changing(async change => {
    await change.objectStore('pieces').delete(piecesOf(path))
    await change.objectStore('journals').delete(path)
  })
  letGo(path)
}

type Change = IDBPTransaction<JournalDb, ('journals' | 'pieces')[], 'readwrite'>

/** A change in one transaction that is on the disk itself once this resolves. */
async function changing<R>(work: (change: Change) => Promise<R>): Promise<R> {
  const change = (await journalDb()).transaction(['journals', 'pieces'], 'readwrite', {
    durability: 'strict',
  })
  // Heard below; here only so that an aborted one is no fault of the page's.
  change.done.catch(() => {})
  try {
    const result = await work(change)
    await change.done
    return result
  } catch (error) {
    try {
      change.abort()
    } catch {
      // It has ended by itself, and nothing was written.
    }
    throw error
  }
}

const fault = (code: string): Error => Object.assign(new Error(code), { code })

/** The browser's word on its storage, in those that the journal knows from a disk. */
async function systemWords<T>(work: Promise<T>): Promise<T> {
  try {
    return await work
  } catch (error) {
    if (typeof (error as { code?: unknown }).code === 'string') throw error
    throw fault(error instanceof DOMException && error.name === 'QuotaExceededError' ? 'ENOSPC' : 'EIO')
  }
}

/** What lets go of the lock of each journal that this window writes. */
const held = new Map<string, () => void>()

export const lockOf = (path: string): string => `tenterhook journal ${path}`

async function hold(path: string): Promise<void> {
  if (held.has(path)) return
  await new Promise<void>((resolve, reject) => {
    navigator.locks
      .request(lockOf(path), { ifAvailable: true }, lock => {
        if (lock === null) {
          reject(fault('EEXIST'))
          return
        }
        return new Promise<void>(release => {
          held.set(path, release)
          resolve()
        })
      })
      .catch(reject)
  })
}

function letGo(path: string): void {
  held.get(path)?.()
  held.delete(path)
}
