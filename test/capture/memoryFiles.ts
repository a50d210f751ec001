import { basename, dirname, join } from 'node:path'
import type { FileLayer } from '../../src/capture/journal/files.ts'

interface Stored {
  /** What the disk has for certain. */
  synced: Uint8Array
  /** What only the system has. */
  unsynced: Uint8Array
}

export interface MemoryFiles extends FileLayer {
  /** Bytes still to be had; beyond, the disk is full. */
  room: number
  /** Whether the folder may be written to. */
  writable: boolean
  /** How long each sync takes. */
  syncMs: number
  /** The next syncs that fail: the system then forgets what it could not sync. */
  badSyncs: number
  /** Takes the power away: of what was not synced, `share` reaches the disk, its last bytes torn. */
  cutPower(share: number): void
}

const fault = (code: string): NodeJS.ErrnoException => Object.assign(new Error(code), { code })
const joined = (a: Uint8Array, b: Uint8Array): Uint8Array => {
  const both = new Uint8Array(a.length + b.length)
  both.set(a)
  both.set(b, a.length)
  return both
}

/** A disk in memory that loses what was not synced, fills up, and turns read-only, as the test wants. */
export function memoryFiles(): MemoryFiles {
  const files = new Map<string, Stored>()
  let off = false
  const layer: MemoryFiles = {
    room: Number.POSITIVE_INFINITY,
    writable: true,
    syncMs: 2,
    badSyncs: 0,
    cutPower(share) {
      off = true
      for (const file of files.values()) {
        const kept = file.unsynced.slice(0, Math.floor(share * file.unsynced.length))
        // A torn sector: its last bytes are not what was written.
        if (kept.length > 3) kept.fill(0xa5, kept.length - 3)
        file.synced = joined(file.synced, kept)
        file.unsynced = new Uint8Array(0)
      }
    },
    async makeFolder() {
      if (!layer.writable) throw fault('EACCES')
    },
    freeBytes: async () => (layer.room === Number.POSITIVE_INFINITY ? null : layer.room),
    async create(path, keepBytes) {
      if (!layer.writable) throw fault('EACCES')
      const file: Stored = files.get(path) ?? { synced: new Uint8Array(0), unsynced: new Uint8Array(0) }
      const whole = joined(file.synced, file.unsynced)
      if (whole.length < keepBytes) throw fault('ESHRUNK')
      layer.room += whole.length - keepBytes
      file.synced = whole.slice(0, Math.min(keepBytes, file.synced.length))
      file.unsynced = whole.slice(file.synced.length, keepBytes)
      files.set(path, file)
      return {
        async append(bytes) {
          if (off) return bytes.length
          if (layer.room <= 0) throw fault('ENOSPC')
          const taken = bytes.slice(0, layer.room)
          layer.room -= taken.length
          file.unsynced = joined(file.unsynced, taken)
          return taken.length
        },
        async sync() {
          const upTo = file.unsynced.length
          await new Promise(resolve => setTimeout(resolve, layer.syncMs))
          if (off) return
          if (layer.badSyncs > 0) {
            layer.badSyncs--
            // What was to be synced is gone; what was written behind it stays where it is.
            file.unsynced = file.unsynced.fill(0, 0, upTo)
            throw fault('EIO')
          }
          file.synced = joined(file.synced, file.unsynced.slice(0, upTo))
          file.unsynced = file.unsynced.slice(upTo)
        },
        async touch() {},
        async close() {},
      }
    },
    async read(path, most) {
      const file = files.get(path)
      if (!file) throw fault('ENOENT')
      return joined(file.synced, file.unsynced).slice(0, most)
    },
    list: async folder =>
      [...files.keys()].filter(path => dirname(path) === folder).map(path => basename(path)),
    ageMs: async () => 0,
    async rename(from, to) {
      const file = files.get(from)
      if (!file) throw fault('ENOENT')
      files.delete(from)
      files.set(join(dirname(to), basename(to)), file)
    },
    async remove(path) {
      const file = files.get(path)
      if (file) layer.room += file.synced.length + file.unsynced.length
      files.delete(path)
    },
  }
  return layer
}
