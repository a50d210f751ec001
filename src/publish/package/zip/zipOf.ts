import { Zip, ZipDeflate, ZipPassThrough } from 'fflate'
import { type Outcome, wrong } from '../../../core/problem.ts'
import { joinedBytes, type PackageFile } from '../files.ts'

/** Beyond these a zip needs the 64-bit form, which not every program opens. */
const MOST_BYTES = 2 ** 32 - 1
const MOST_FILES = 65_534
/** Room for the names and fields of an entry besides its bytes. */
const ENTRY_BYTES = 1024
/** Deflated in pieces of this many bytes, so that a piece goes out before the next is made. */
const PIECE_BYTES = 1 << 20

/** They hold compressed bytes already. */
const PACKED = /\.(?:parquet|jpe?g|png|webp|gz|zip)$/i

/** Too large for a zip: thrown in the midst of a stream, told as a problem by `zipProblem`. */
export class ZipTooLarge extends Error {}

/**
 * The files as a zip, in pieces as they are made; memory holds one file at a time. The same files and moment
 * give the same bytes on every computer. @throws ZipTooLarge past 4 GiB or 65 534 files
 */
export async function* zipOf(files: AsyncIterable<PackageFile>, madeAt: string): AsyncGenerator<Uint8Array> {
  let ready: Uint8Array[] = []
  let fault: Error | null = null
  let bytes = 0
  let count = 0
  const zip = new Zip((error, piece) => {
    if (error) fault = error
    else ready.push(piece)
  })
  const mtime = zipDate(madeAt)
  for await (const file of files) {
    count++
    bytes += file.bytes.length + ENTRY_BYTES
    if (bytes > MOST_BYTES || count > MOST_FILES)
      throw new ZipTooLarge('a zip ends at 4 GiB and 65 534 files')
    const entry = PACKED.test(file.path)
      ? new ZipPassThrough(file.path)
      : new ZipDeflate(file.path, { level: 6 })
    entry.mtime = mtime
    zip.add(entry)
    for (let from = 0; from === 0 || from < file.bytes.length; from += PIECE_BYTES) {
      const to = from + PIECE_BYTES
      // The deflater hands its pieces on as they are: a copy keeps the caller's bytes his own.
      entry.push(file.bytes.slice(from, to), to >= file.bytes.length)
      yield* ready
      ready = []
    }
    if (fault) throw fault
  }
  zip.end()
  yield* ready
  if (fault) throw fault
}

/** What a zip that could not be made comes to for a person. Rethrows what is something else. */
export function zipProblem(error: unknown, path: string): Outcome<never> {
  if (!(error instanceof ZipTooLarge)) throw error
  return wrong({
    where: path,
    what: `the package is too large for one file: ${error.message}.`,
    cure: 'Write it as a folder: --out FOLDER.',
  })
}

/**
 * The day in a zip is one of the local clock, without a zone. Noon of the day in UTC is written whatever the
 * zone is, so that the bytes do not depend on it; zips know no year before 1980 or after 2099.
 */
function zipDate(madeAt: string): Date {
  const at = new Date(madeAt)
  const year = Math.min(2099, Math.max(1980, at.getUTCFullYear()))
  return Number.isNaN(year) ? new Date(1980, 0, 1, 12) : new Date(year, at.getUTCMonth(), at.getUTCDate(), 12)
}

/** The whole zip, for a caller who has no stream. */
export async function wholeZip(files: AsyncIterable<PackageFile>, madeAt: string): Promise<Uint8Array> {
  const pieces: Uint8Array[] = []
  for await (const piece of zipOf(files, madeAt)) pieces.push(piece)
  return joinedBytes(pieces)
}
