import { open, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { newId } from '../ids.ts'

/** Where bytes stand in a scratch file. */
export interface Place {
  readonly at: number
  readonly length: number
}

/**
 * A file for what is packed and would be too much to be held in memory until it is written into the store.
 */
export interface Scratch {
  put(bytes: Uint8Array): Promise<Place>
  get(place: Place): Promise<Uint8Array>
  /** Closes and removes it. */
  close(): Promise<void>
}

/** @throws the system's error, here and in each call */
export async function openScratch(folder: string): Promise<Scratch> {
  const path = join(folder, `.${newId()}.scratch`)
  const file = await open(path, 'wx+', 0o600)
  // Where the system lets it, the name goes at once: nothing is left behind however this ends.
  if (process.platform !== 'win32') await rm(path, { force: true })
  let length = 0
  return {
    async put(bytes) {
      const at = length
      for (let done = 0; done < bytes.length; )
        done += (await file.write(bytes, done, bytes.length - done, at + done)).bytesWritten
      length += bytes.length
      return { at, length: bytes.length }
    },
    async get(place) {
      const bytes = new Uint8Array(place.length)
      for (let done = 0; done < bytes.length; ) {
        const { bytesRead } = await file.read(bytes, done, bytes.length - done, place.at + done)
        if (bytesRead === 0) throw new RangeError('the scratch file ended too soon')
        done += bytesRead
      }
      return bytes
    },
    async close() {
      await file.close()
      await rm(path, { force: true })
    },
  }
}
