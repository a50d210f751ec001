import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { createInterface } from 'node:readline'
import { createGunzip } from 'node:zlib'
import type { Kysely } from 'kysely'
import { fileProblem } from '../../core/fileProblem.ts'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { Engine } from '../engine/engine.ts'
import { migrate, SCHEMA_VERSION } from '../schema/migrate.ts'
import { changing } from '../subjects/common.ts'
import { insertRow, type Row } from './rows.ts'
import { ARCHIVED_TABLES } from './tables.ts'

/**
 * Reads an archive into an empty database and brings that up to date. Nothing of it is trusted: tables and
 * columns must be those of its version, and the count and hash at its end must be right.
 */
export async function readArchive(path: string, stage: Engine): Promise<Outcome<{ rows: number }>> {
  const source = createReadStream(path)
  const text = createGunzip()
  source.on('error', error => text.destroy(error)).pipe(text)
  const lines = createInterface({ input: text, crlfDelay: Number.POSITIVE_INFINITY })[Symbol.asyncIterator]()
  try {
    const first = await lines.next()
    const head = first.done ? null : parsed(first.value)
    const schema = head && schemaOf(head)
    if (schema === null || first.done) return bad(path, 'it is not an archive of a Tenterhook store.')
    if (schema > SCHEMA_VERSION) return bad(path, `a newer Tenterhook wrote it (version ${schema}).`)
    await migrate(stage, { to: schema })
    const columns = await columnsOf(stage.db as unknown as Kysely<unknown>)
    const filled = await changing(stage.db, trx =>
      fill(path, trx as unknown as Kysely<unknown>, columns, first.value, lines),
    )
    if (filled.ok) await migrate(stage)
    return filled
  } catch (error) {
    const { code } = error as { code?: unknown }
    if (typeof code === 'string' && code.startsWith('Z_'))
      return bad(path, 'it is damaged, or not an archive.')
    if (stage.problemOf(error)) return bad(path, 'its rows do not fit one another.')
    return wrong(fileProblem(path, error))
  } finally {
    source.destroy()
    text.destroy()
  }
}

async function fill(
  path: string,
  db: Kysely<unknown>,
  columns: ReadonlyMap<string, ReadonlySet<string>>,
  head: string,
  lines: AsyncIterator<string>,
): Promise<Outcome<{ rows: number }>> {
  const hash = createHash('sha256').update(`${head}\n`)
  let rows = 0
  for (;;) {
    const next = await lines.next()
    if (next.done) return bad(path, 'it is cut short.')
    const value = parsed(next.value)
    if (value === null) return bad(path, `line ${rows + 2} is not a line of an archive.`)
    if (typeof value.table !== 'string') {
      const whole = value.rows === rows && value.sha256 === hash.digest('hex')
      return whole ? fine({ rows }) : bad(path, 'it does not match its checksum.')
    }
    const row = readRow(value.row, columns.get(value.table))
    if (row === null) return bad(path, `line ${rows + 2} is no row of the table “${printable(value.table)}”.`)
    await insertRow(db, value.table, row)
    rows++
    hash.update(`${next.value}\n`)
  }
}

const bad = (path: string, what: string): { readonly ok: false; readonly problems: readonly Problem[] } =>
  wrong({
    where: path,
    what,
    cure: 'Export the archive again, or take another. The store has not been touched.',
  })

function parsed(line: string): Record<string, unknown> | null {
  try {
    const value: unknown = JSON.parse(line)
    return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : null
  } catch {
    return null
  }
}

function schemaOf({ document, version, schema }: Record<string, unknown>): number | null {
  if (document !== 'tenterhook.archive' || version !== 1) return null
  return typeof schema === 'number' && Number.isInteger(schema) && schema > 0 ? schema : null
}

async function columnsOf(db: Kysely<unknown>): Promise<ReadonlyMap<string, ReadonlySet<string>>> {
  const archived = new Set<string>(ARCHIVED_TABLES.map(table => table.name))
  const tables = await db.introspection.getTables()
  return new Map(
    tables
      .filter(table => archived.has(table.name))
      .map(table => [table.name, new Set(table.columns.map(column => column.name))]),
  )
}

function readRow(value: unknown, columns: ReadonlySet<string> | undefined): Row | null {
  if (!columns || typeof value !== 'object' || value === null) return null
  const row: Row = {}
  for (const [column, cell] of Object.entries(value)) {
    if (!columns.has(column)) return null
    if (cell === null || typeof cell === 'string' || typeof cell === 'number') row[column] = cell
    else if (typeof cell === 'object' && typeof (cell as { base64?: unknown }).base64 === 'string')
      row[column] = Buffer.from((cell as { base64: string }).base64, 'base64')
    else return null
  }
  return Object.keys(row).length > 0 ? row : null
}
