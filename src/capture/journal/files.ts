import { constants } from 'node:fs'
import { access, mkdir, open, readdir, readFile, rename, rm, stat } from 'node:fs/promises'
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
  close(): Promise<void>
}

/**
 * The few things that the journal asks of a disk, so that a test can stand in for one that loses what was not
 * synced. Errors are the system's own, with its `code`.
 */
export interface FileLayer {
  /** Makes the folder, with those above it, and rejects where it cannot be written to. */
  makeFolder(folder: string): Promise<void>
  /** Makes a file, or opens it again. Its first sync sees to it that its name is on the disk too. */
  create(path: string): Promise<GrowingFile>
  read(path: string): Promise<Uint8Array>
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
    await mkdir(folder, { recursive: true })
    await access(folder, constants.W_OK)
  },
  async create(path) {
    const handle = await open(path, 'a')
    let named = false
    return {
      append: async bytes => (await handle.write(bytes)).bytesWritten,
      async sync() {
        await handle.datasync()
        if (!named) await syncFolder(dirname(path))
        named = true
      },
      close: () => handle.close(),
    }
  },
  read: path => readFile(path),
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
