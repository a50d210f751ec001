import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { diskProblem } from './diskProblem.ts'
import { type FileLayer, piecesOf } from './files.ts'
import { allOf } from './frames.ts'

/**
 * A journal that is still written, as it was at one moment. Plain data: another thread can read it, so that
 * the one that writes it has no more to do than to tell where it stands.
 */
export interface JournalSoFar {
  readonly path: string
  /** So many bytes of it are in the file; more may have come since. */
  readonly writtenBytes: number
  /** What comes after them, which the file may not have yet. */
  readonly held: Uint8Array
}

/** Its bytes in order. Rejects with the system's error, `ESHRUNK` where the file has less than it had. */
export async function* piecesSoFar(
  files: FileLayer,
  { path, writtenBytes, held }: JournalSoFar,
): AsyncGenerator<Uint8Array> {
  let left = writtenBytes
  if (left > 0)
    for await (const piece of piecesOf(files, path)) {
      yield piece.subarray(0, left)
      left -= Math.min(left, piece.length)
      if (left === 0) break
    }
  if (left > 0) throw Object.assign(new Error('the journal is shorter than it was'), { code: 'ESHRUNK' })
  yield held
}

/** All its bytes; the problem where the file cannot be read, as when it was moved meanwhile. */
export async function readSoFar(files: FileLayer, soFar: JournalSoFar): Promise<Outcome<Uint8Array>> {
  try {
    return fine(await allOf(piecesSoFar(files, soFar)))
  } catch (error) {
    return wrong(diskProblem(soFar.path, error, files))
  }
}
