import { readFile, rename, rm, stat, writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { fileProblem } from '../core/fileProblem.ts'
import { fine, type Outcome, wrong } from '../core/problem.ts'

export { fileProblem } from '../core/fileProblem.ts'

/** The bytes of a file, or of standard input where the path is `-`. */
export async function readBytes(path: string): Promise<Outcome<Uint8Array>> {
  try {
    if (path === '-') return fine(await readInput())
    return fine(await readFile(path))
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
}

/** The bytes of a file that is no longer than so many; `null` of a longer one, of standard input, and of what is no file. */
export async function bytesOfShort(path: string, mostBytes: number): Promise<Uint8Array | null> {
  try {
    return path === '-' || (await stat(path)).size > mostBytes ? null : await readFile(path)
  } catch {
    return null
  }
}

async function readInput(): Promise<Uint8Array> {
  const pieces: Uint8Array[] = []
  for await (const piece of process.stdin) pieces.push(piece as Uint8Array)
  return Buffer.concat(pieces)
}

/** Writes beside the file and renames, so that an old file is whole until the new one is; `-` is standard output. */
export async function writeWhole(path: string, content: string | Uint8Array): Promise<Outcome<string>> {
  if (path === '-') {
    await new Promise<void>(done => process.stdout.write(content, () => done()))
    return fine('standard output')
  }
  // A terminal, a pipe or another device is written to, never replaced.
  const there = await stat(path).catch(() => null)
  if (there && !there.isFile() && !there.isDirectory()) {
    await writeFile(path, content)
    return fine(path)
  }
  const half = join(dirname(path), `.${process.pid}-${Date.now().toString(36)}.part`)
  try {
    await writeFile(half, content)
    await rename(half, path)
    return fine(path)
  } catch (error) {
    await rm(half, { force: true })
    return wrong(fileProblem(path, error, 'writing'))
  }
}
