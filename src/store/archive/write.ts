import { createHash } from 'node:crypto'
import { createWriteStream } from 'node:fs'
import { rename, rm } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { PassThrough, Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { createGzip } from 'node:zlib'
import type { Kysely } from 'kysely'
import { fileProblem } from '../../core/fileProblem.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Engine } from '../engine/engine.ts'
import { newId } from '../ids.ts'
import { type Row, rowsOf } from './rows.ts'
import { ARCHIVED_TABLES } from './tables.ts'

/**
 * Writes all that is in the store, as of one moment, into one file that needs no database to be read: gzipped
 * JSON lines. First `{"document":"tenterhook.archive","version":1,"schema":N}`, then a line for each row,
 * `{"table","row"}` with bytes as `{"base64"}`, last `{"rows":N,"sha256"}` over all lines before.
 */
export async function writeArchive(
  engine: Engine,
  schema: number,
  path: string,
): Promise<Outcome<{ path: string; rows: number }>> {
  const half = join(dirname(path), `.${newId()}.part`)
  let rows = 0
  try {
    await engine.snapshot(db =>
      pipeline(
        Readable.from(
          lines(db as unknown as Kysely<unknown>, schema, count => {
            rows = count
          }),
        ),
        // What is large in it is compressed already.
        createGzip({ level: 1 }),
        createWriteStream(half, { mode: 0o600, flush: true }),
      ),
    )
    await rename(half, path)
    return fine({ path, rows })
  } catch (error) {
    if (engine.problemOf(error)) throw error
    return wrong(fileProblem(path, error))
  } finally {
    await rm(half, { force: true })
  }
}

/** The same file in pieces, for whoever takes them as they come. @throws the database’s error */
export async function* archivePieces(engine: Engine, schema: number): AsyncGenerator<Uint8Array> {
  const out = new PassThrough()
  const made = engine.snapshot(db =>
    pipeline(
      Readable.from(lines(db as unknown as Kysely<unknown>, schema, () => {})),
      createGzip({ level: 1 }),
      out,
    ),
  )
  made.catch((error: unknown) => out.destroy(error as Error))
  try {
    yield* out
  } finally {
    out.destroy()
    // Whoever took it may have left in the middle.
    await made.catch(() => {})
  }
}

async function* lines(
  db: Kysely<unknown>,
  schema: number,
  told: (rows: number) => void,
): AsyncIterable<string> {
  const hash = createHash('sha256')
  let rows = 0
  const line = (value: unknown): string => {
    const text = `${JSON.stringify(value)}\n`
    hash.update(text)
    return text
  }
  yield line({ document: 'tenterhook.archive', version: 1, schema })
  // A store of an older version has not all of them yet.
  const there = new Set((await db.introspection.getTables()).map(({ name }) => name))
  for (const table of ARCHIVED_TABLES.filter(({ name }) => there.has(name)))
    for await (const row of rowsOf(db, table)) {
      rows++
      yield line({ table: table.name, row: written(row) })
    }
  told(rows)
  yield `${JSON.stringify({ rows, sha256: hash.digest('hex') })}\n`
}

const written = (row: Row): Row =>
  Object.fromEntries(
    Object.entries(row).map(([column, value]) => [
      column,
      value instanceof Uint8Array ? { base64: Buffer.from(value).toString('base64') } : value,
    ]),
  )
