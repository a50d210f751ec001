import { rm } from 'node:fs/promises'
import { join } from 'node:path'
import { type Kysely, sql } from 'kysely'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { verifyStore } from '../care/verify.ts'
import type { Engine } from '../engine/engine.ts'
import { openStage } from '../engine/open.ts'
import { newId } from '../ids.ts'
import type { ImportedArchive } from '../store.ts'
import { changing } from '../subjects/common.ts'
import { recordings } from '../subjects/recordings.ts'
import { refreshSearch } from '../subjects/searchText.ts'
import { readArchive } from './read.ts'
import { insertRow, type Row, rowsOf, rowThere } from './rows.ts'
import { ARCHIVED_TABLES } from './tables.ts'

/**
 * Adds an archive to the store. It is first read into a database of its own, brought up to date and verified
 * to the last sample; only then, in one transaction, is what is not here yet taken over.
 */
export async function importArchive(
  engine: Engine,
  folder: string,
  path: string,
): Promise<Outcome<ImportedArchive>> {
  const file = join(folder, `.${newId()}.import`)
  const stage = await openStage(file)
  try {
    const read = await readArchive(path, stage)
    if (!read.ok) return read
    const { findings } = await verifyStore(stage, recordings(stage))
    if (findings.length > 0)
      return wrong(
        ...findings.slice(0, 20).map(({ where, what }) => ({
          where: `${path}, ${where}`,
          what,
          cure: 'Export the archive again, or take another. The store has not been touched.',
        })),
      )
    return await takeOver(engine, stage, path)
  } finally {
    await stage.close()
    for (const tail of ['', '-wal', '-shm']) await rm(file + tail, { force: true })
  }
}

const takeOver = (engine: Engine, stage: Engine, path: string): Promise<Outcome<ImportedArchive>> =>
  changing<ImportedArchive>(engine.db, async trx => {
    const db = trx as unknown as Kysely<unknown>
    let added = 0
    let known = 0
    const renamed: string[] = []
    let isUnsearched = false
    for (const table of ARCHIVED_TABLES)
      for await (const row of rowsOf(stage.db as unknown as Kysely<unknown>, table)) {
        if (await rowThere(db, table, row)) {
          if (table.name === 'recording' && !(await sameRecording(db, row)))
            return wrong({
              where: `${path}, recording “${String(row.id)}”`,
              what: 'the store has another recording of the same id.',
              cure: 'Import the archive into a store of its own.',
            })
          known++
          continue
        }
        const free = await withFreeName(db, table.name, row)
        if (free.name !== row.name) renamed.push(`${String(row.name)} → ${String(free.name)}`)
        // A page that saved it leaves that to the store.
        if (row.search_text === '') isUnsearched = true
        await insertRow(db, table.name, free)
        added++
      }
    // The texts to search by came with the names of before, or not at all.
    if (renamed.length > 0 || isUnsearched) await refreshSearch(trx, 'all')
    return fine({ added, known, renamed })
  })

async function sameRecording(db: Kysely<unknown>, { id, sha256, samples_sha256 }: Row): Promise<boolean> {
  const { rows } = await sql`select 1 from recording
    where id = ${id} and sha256 = ${sha256} and samples_sha256 = ${samples_sha256}`.execute(db)
  return rows.length > 0
}

/** Names that must differ, and within what. */
const NAMED: Readonly<Record<string, string | null>> = {
  study: null,
  rig: null,
  variant: 'study_id',
  specimen: 'study_id',
}

async function withFreeName(db: Kysely<unknown>, table: string, row: Row): Promise<Row> {
  const within = NAMED[table]
  if (within === undefined) return row
  const scope = within === null ? sql`` : sql`and ${sql.ref(within)} = ${row[within]}`
  for (let number = 1; ; number++) {
    const name = number === 1 ? row.name : `${String(row.name)} (${number})`
    const { rows } = await sql`select 1 from ${sql.table(table)} where name = ${name} ${scope}`.execute(db)
    if (rows.length === 0) return { ...row, name }
  }
}
