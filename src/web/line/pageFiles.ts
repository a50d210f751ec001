import type { IDBPTransaction } from 'idb'
import type { FileLayer, GrowingFile } from '../../capture/journal/files.ts'
import { joined } from '../../capture/journal/frames.ts'
import { texts } from '../texts/index.ts'
import { type JournalDb, journalDb, piecesOf } from './journalDb.ts'

/**
 * The disk of a page: journals as pieces in IndexedDB. What is appended waits in memory until the next sync, which writes
 * it as one piece with strict durability, so that it is on the disk itself once the sync is done; the journal syncs every
 * 50 ms. A lock of the browser's tells other windows that a journal is in use; it goes with the
 * window, however that ends.
 */
export const pageFiles: FileLayer = {
  words: texts.storage,
  makeFolder: async () => {
    await systemWords(journalDb())
  },
  async freeBytes() {
    const { quota, usage } = await navigator.storage.estimate()
    return quota === undefined || usage === undefined ? null : quota - usage
  },
  create: (path, keepBytes) => systemWords(create(path, keepBytes)),
  read,
  pieces,
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
      const piece = joined(waiting)
      waiting = []
      if (piece.length === 0) return
      await systemWords(addPiece(path, length, piece))
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

/**
 * Asked for in one breath, the end of the transaction too: nothing of it waits for an answer in between, which a busy
 * machine may give late. It touches the pieces alone, so that no other work on the storage stands in its way.
 */
async function addPiece(path: string, from: number, piece: Uint8Array<ArrayBuffer>): Promise<void> {
  const change = (await journalDb()).transaction('pieces', 'readwrite', { durability: 'strict' })
  // Told by the transaction as a whole.
  change.store.add(piece, [path, from]).catch(() => {})
  change.commit()
  await change.done
}

/** Makes the journal, or leaves only its first bytes; gives their number. */
const cutBack = (path: string, keepBytes: number): Promise<number> =>
  changing(async change => {
    const pieces = change.objectStore('pieces')
    await pieces.delete(piecesOf(path, keepBytes))
    const last = await pieces.openCursor(piecesOf(path), 'prev')
    const end = last === null ? 0 : last.key[1] + last.value.length
    if (end < keepBytes) throw fault('ESHRUNK')
    if (last !== null && end > keepBytes) await last.update(last.value.slice(0, keepBytes - last.key[1]))
    await change.objectStore('journals').put({ path, touchedMs: Date.now() })
    return keepBytes
  })

/** Pieces that are read in one transaction: a sync that comes meanwhile waits no longer than these take. */
const AT_ONCE = 512

/** A journal in pieces from a place on, at which one must begin, each with where it ends. A page may read it while it grows. */
export async function* piecesFrom(
  path: string,
  from: number,
): AsyncGenerator<{ readonly bytes: Uint8Array<ArrayBuffer>; readonly end: number }> {
  for (let at = from; ; ) {
    const { store } = (await journalDb()).transaction('pieces')
    const range = piecesOf(path, at)
    const [keys, values] = await Promise.all([store.getAllKeys(range, AT_ONCE), store.getAll(range, AT_ONCE)])
    if (values.length === 0) return
    if (keys[0]?.[1] !== at) throw fault('EIO')
    const bytes = joined(values)
    at += bytes.length
    yield { bytes, end: at }
  }
}

async function* pieces(path: string): AsyncGenerator<Uint8Array> {
  try {
    if (!(await (await journalDb()).getKey('journals', path))) throw fault('ENOENT')
    for await (const { bytes } of piecesFrom(path, 0)) yield bytes
  } catch (error) {
    throw inSystemWords(error)
  }
}

async function read(path: string, most = Number.POSITIVE_INFINITY): Promise<Uint8Array> {
  const there: Uint8Array[] = []
  let length = 0
  for await (const piece of pieces(path)) {
    there.push(piece)
    length += piece.length
    if (length >= most) break
  }
  return joined(there).subarray(0, most)
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
function inSystemWords(error: unknown): unknown {
  if (typeof (error as { code?: unknown }).code === 'string') return error
  return fault(error instanceof DOMException && error.name === 'QuotaExceededError' ? 'ENOSPC' : 'EIO')
}

async function systemWords<T>(work: Promise<T>): Promise<T> {
  try {
    return await work
  } catch (error) {
    throw inSystemWords(error)
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
