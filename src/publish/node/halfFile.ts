import { mkdir, open, rename, rm } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { fileProblem } from '../../core/fileProblem.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'

/** A file that is being made under another name beside its own, so that a half one never looks whole. */
export interface HalfFile {
  readonly path: string
  write(bytes: Uint8Array, position: number): Promise<Outcome<null>>
  /** Gives it its name. */
  finish(): Promise<Outcome<string>>
  /** Takes it away again, where it has not been finished. */
  drop(): Promise<void>
}

/**
 * The name that a file or folder has while it is being made; hidden, and with an ending that nothing opens.
 */
export const halfName = (path: string): string =>
  join(dirname(path), `.${basename(path)}.${process.pid}-${Date.now().toString(36)}.part`)

export async function openHalfFile(path: string): Promise<Outcome<HalfFile>> {
  const half = halfName(path)
  try {
    const file = await open(half, 'w')
    let isOpen = true
    const close = async () => {
      if (isOpen) await file.close()
      isOpen = false
    }
    return fine({
      path: half,
      async write(bytes, position) {
        try {
          for (let from = 0; from < bytes.byteLength; ) {
            const { bytesWritten } = await file.write(bytes, from, bytes.byteLength - from, position + from)
            from += bytesWritten
          }
          return fine(null)
        } catch (error) {
          return wrong(fileProblem(path, error, 'writing'))
        }
      },
      async finish() {
        try {
          await close()
          await rename(half, path)
          return fine(path)
        } catch (error) {
          return wrong(fileProblem(path, error, 'writing'))
        }
      },
      async drop() {
        await close().catch(() => {})
        await rm(half, { force: true })
      },
    })
  } catch (error) {
    return wrong(fileProblem(path, error, 'writing'))
  }
}

/** The same for a folder of many files. */
export async function makeHalfFolder(path: string): Promise<Outcome<string>> {
  const half = halfName(path)
  try {
    await mkdir(half)
    return fine(half)
  } catch (error) {
    return wrong(fileProblem(path, error, 'writing'))
  }
}
