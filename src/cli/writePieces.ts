import { createWriteStream } from 'node:fs'
import { rename, rm } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { fine, type Outcome, wrong } from '../core/problem.ts'
import { fileProblem } from './files.ts'

/** Writes a file in pieces, beside itself and renamed, so that an old file is whole until the new one is; `-` is standard output. */
export async function writePieces(
  path: string,
  pieces: Iterable<string | Uint8Array> | AsyncIterable<string | Uint8Array>,
): Promise<Outcome<string>> {
  if (path === '-') {
    await pipeline(Readable.from(pieces), process.stdout, { end: false })
    return fine('standard output')
  }
  const half = join(dirname(path), `.${process.pid}-${Date.now().toString(36)}.part`)
  try {
    await pipeline(Readable.from(pieces), createWriteStream(half))
    await rename(half, path)
    return fine(path)
  } catch (error) {
    await rm(half, { force: true })
    return wrong(fileProblem(path, error, 'writing'))
  }
}
