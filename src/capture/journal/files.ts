import { constants } from 'node:fs'
import { access, mkdir, open, readdir, readFile, rename, rm, stat, statfs } from 'node:fs/promises'
import { dirname, join } from 'node:path'

/** A file that only grows. */
export interface GrowingFile {
  /**
   * Hands bytes to the system and tells how many it took, at least one, perhaps not all: the caller goes on with the
   * rest. Rejects with the system's error when it takes none, so that the file never holds a torn frame with more after it.
   */
  append(bytes: Uint8Array): Promise<number>
  /** Resolves when everything appended before the call is on the disk itself. */
  sync(): Promise<void>
  /** Says that it is still written, though nothing comes. */
  touch(): Promise<void>
  close(): Promise<void>
}

/**
 * The few things that the journal asks of a disk, so that a test can stand in for one that loses what was not
 * synced. Errors are the system's own, with its `code`.
 */
export interface FileLayer {
  /** Makes the folder, with those above it, for their owner alone, and rejects where it cannot be written to. */
  makeFolder(folder: string): Promise<void>
  /** Bytes that may still be written there; `null` where the system does not tell. */
  freeBytes(folder: string): Promise<number | null>
  /**
   * Makes a file for its owner alone, or opens it again and cuts it back to `keepBytes`; rejects with `ESHRUNK` where it
   * no longer has so many. Its first sync sees to it that its name is on the disk too.
   */
  create(path: string, keepBytes: number): Promise<GrowingFile>
  /** All of a file, or its first `most` bytes. */
  read(path: string, most?: number): Promise<Uint8Array>
  /** Names in the folder; none where there is no such folder. */
  list(folder: string): Promise<readonly string[]>
  /** Milliseconds since it was last written to. */
  ageMs(path: string): Promise<number>
  rename(from: string, to: string): Promise<void>
  remove(path: string): Promise<void>
}

/** A name made on POSIX is safe only once its folder is synced; Windows cannot open a folder and needs no such thing. */
async function syncFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return
  const handle = await open(folder, 'r')
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
}

export const diskFiles: FileLayer = {
  async makeFolder(folder) {
    // Pulls may be a maker's own business.
    await mkdir(folder, { recursive: true, mode: 0o700 })
    await access(folder, constants.W_OK)
  },
  async freeBytes(folder) {
    const { bavail, bsize } = await statfs(folder)
    return bavail * bsize
  },
  async create(path, keepBytes) {
    const handle = await open(path, 'a', 0o600)
    try {
      const { size } = await handle.stat()
      if (size < keepBytes) throw Object.assign(new Error('the file has shrunk'), { code: 'ESHRUNK' })
      if (size > keepBytes) await handle.truncate(keepBytes)
    } catch (error) {
      await handle.close()
      throw error
    }
    let named = false
    return {
      append: async bytes => (await handle.write(bytes)).bytesWritten,
      async sync() {
        await handle.datasync()
        if (!named) await syncFolder(dirname(path))
        named = true
      },
      async touch() {
        const now = new Date()
        await handle.utimes(now, now)
      },
      close: () => handle.close(),
    }
  },
  async read(path, most) {
    if (most === undefined) return readFile(path)
    const handle = await open(path, 'r')
    try {
      const { bytesRead, buffer } = await handle.read(new Uint8Array(most), 0, most, 0)
      return buffer.subarray(0, bytesRead)
    } finally {
      await handle.close()
    }
  },
  async list(folder) {
    try {
      return await readdir(folder)
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return []
      throw error
    }
  },
  ageMs: async path => Date.now() - (await stat(path)).mtimeMs,
  async rename(from, to) {
    await rename(from, to)
    await syncFolder(dirname(to))
  },
  remove: path => rm(path, { force: true }),
}

export const journalPath = (folder: string, id: string): string => join(folder, `${id}.journal`)
