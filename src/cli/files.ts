import { readFile, rename, rm, stat, writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { fileProblem } from '../core/fileProblem.ts'
import { fine, type Outcome, wrong } from '../core/problem.ts'

export { fileProblem } from '../core/fileProblem.ts'

export async function readBytes(path: string): Promise<Outcome<Uint8Array>> {
  try {
    return fine(await readFile(path))
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
}

/** Writes beside the file and renames, so that an old file is whole until the new one is. */
export async function writeWhole(path: string, content: string | Uint8Array): Promise<Outcome<string>> {
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
