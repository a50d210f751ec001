import { constants } from 'node:fs'
import { access, mkdir, open, readdir, readFile, rename, rm, stat, statfs } from 'node:fs/promises'
import { dirname } from 'node:path'
import type { FileLayer } from '../journal/files.ts'

/**
 * A name made on POSIX is safe only once its folder is synced; Windows cannot open a folder and needs no such
 * thing.
 */
async function syncFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return
  const handle = await open(folder, 'r')
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
}

const PIECE_BYTES = 1024 * 1024

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
  async *pieces(path) {
    const handle = await open(path, 'r')
    try {
      for (;;) {
        const { bytesRead, buffer } = await handle.read(new Uint8Array(PIECE_BYTES), 0, PIECE_BYTES)
        if (bytesRead === 0) return
        yield buffer.subarray(0, bytesRead)
      }
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
