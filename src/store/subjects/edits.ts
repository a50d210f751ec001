import { sql } from 'kysely'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Engine } from '../engine/engine.ts'
import { newId } from '../ids.ts'
import type { Edits } from '../store.ts'
import type { Edit } from '../types.ts'
import { changing, type Db, fromJson, isThere, laterThan, notThere, nowIso } from './common.ts'
import { applyEdit } from './editSteps.ts'
import { refreshSearch } from './searchText.ts'

type Row = Readonly<Record<string, unknown>>

/** The rows that an edit may touch, and what tells them apart. */
const TABLES = { variant: 'id', specimen: 'id', placement: 'recording_id' } as const
type EditedTable = keyof typeof TABLES
/** Made by the store itself: no part of what a person said. */
const OWN_COLUMNS = new Set(['updated_at', 'search_text'])

/** One row as it was and as it is; `null` where there was or is none. */
interface RowChange {
  readonly table: EditedTable
  readonly id: string
  readonly before: Row | null
  readonly after: Row | null
}

export const edits = ({ db }: Engine): Edits => ({
  apply: (studyId, steps, { who, what }) =>
    changing(db, async trx => {
      const before = await rowsOf(trx, studyId)
      for (const step of steps) {
        const done = await applyEdit(trx, studyId, step)
        if (!done.ok) return done
      }
      const changes = await changesSince(trx, studyId, before)
      if (changes.length === 0) return fine(null)
      await touched(trx, changes)
      const last = await newestOf(trx, studyId)
      const id = newId()
      await trx
        .insertInto('edit')
        .values({
          id,
          study_id: studyId,
          made_at: last === null ? nowIso() : laterThan(last),
          who,
          what,
          changes: JSON.stringify(changes),
          taken_back_at: null,
        })
        .execute()
      return getEdit(trx, id)
    }),
  async list(studyId) {
    const rows = await db
      .selectFrom('edit')
      .selectAll()
      .where('study_id', '=', studyId)
      .orderBy('made_at', 'desc')
      .orderBy('id', 'desc')
      .execute()
    return rows.map(editOf)
  },
  takeBack: id => turn(db, id, 'back'),
  doAgain: id => turn(db, id, 'again'),
})

interface EditRow {
  readonly id: string
  readonly study_id: string
  readonly made_at: string
  readonly who: string
  readonly what: string
  readonly changes: string
  readonly taken_back_at: string | null
}

const editOf = (row: EditRow): Edit => ({
  id: row.id,
  studyId: row.study_id,
  madeAt: row.made_at,
  who: row.who,
  what: row.what,
  takenBackAt: row.taken_back_at,
})

async function getEdit(db: Db, id: string): Promise<Outcome<Edit>> {
  const row = await db.selectFrom('edit').selectAll().where('id', '=', id).executeTakeFirst()
  return isThere(row) ? fine(editOf(row)) : notThere('edit', id)
}

async function newestOf(db: Db, studyId: string): Promise<string | null> {
  const row = await db
    .selectFrom('edit')
    .select(eb => eb.fn.max('made_at').as('last'))
    .where('study_id', '=', studyId)
    .executeTakeFirst()
  return row?.last ?? null
}

/** Takes an edit back, or does it again. Refused where a later edit has changed the same since. */
const turn = (db: Engine['db'], id: string, way: 'back' | 'again'): Promise<Outcome<Edit>> =>
  changing(db, async trx => {
    const row = await trx.selectFrom('edit').selectAll().where('id', '=', id).executeTakeFirst()
    if (!isThere(row)) return notThere('edit', id)
    if ((row.taken_back_at !== null) === (way === 'back')) return fine(editOf(row))
    const kept = fromJson<RowChange[]>(row.changes)
    const changes =
      way === 'again' ? kept : kept.map(one => ({ ...one, before: one.after, after: one.before }))
    for (const { table, id: rowId, before } of changes)
      if (!isSame(await rowOf(trx, table, rowId), before))
        return wrong({
          where: `“${row.what}”`,
          what: 'a later change touched the same, so it cannot be turned by itself.',
          cure: 'Take the later changes back first, the newest before the others.',
        })
    await writeAll(trx, changes)
    await touched(trx, changes)
    await trx
      .updateTable('edit')
      .set({ taken_back_at: way === 'back' ? nowIso() : null })
      .where('id', '=', id)
      .execute()
    return getEdit(trx, id)
  })

/** Rows are made before others name them, and go after; names give way for a moment, as two may have been exchanged. */
async function writeAll(db: Db, changes: readonly RowChange[]): Promise<void> {
  const inOrder = (Object.keys(TABLES) as EditedTable[]).flatMap(table =>
    changes.filter(one => one.table === table),
  )
  for (const { table, id, before, after } of inOrder)
    if (before !== null && after !== null && before.name !== after.name && table !== 'placement')
      await sql`update ${sql.table(table)} set name = ${`\u0000${id}`} where id = ${id}`.execute(db)
  for (const { table, id, before, after } of inOrder) {
    if (after === null) continue
    if (before === null) {
      const row = table === 'specimen' ? { ...after, updated_at: nowIso() } : after
      const names = sql.join(Object.keys(row).map(column => sql.ref(column)))
      await sql`insert into ${sql.table(table)} (${names}) values (${sql.join(Object.values(row))})`.execute(
        db,
      )
    } else {
      const pairs = Object.entries(after).map(([column, value]) => sql`${sql.ref(column)} = ${value}`)
      await sql`update ${sql.table(table)} set ${sql.join(pairs)} where ${sql.ref(TABLES[table])} = ${id}`.execute(
        db,
      )
    }
  }
  for (const { table, id, after } of inOrder.toReversed())
    if (after === null)
      await sql`delete from ${sql.table(table)} where ${sql.ref(TABLES[table])} = ${id}`.execute(db)
}

/** What stands beside the rows follows them. */
async function touched(db: Db, changes: readonly RowChange[]): Promise<void> {
  for (const { table, id, after } of changes) {
    if (after === null) continue
    if (table === 'placement') await refreshSearch(db, { recordingId: id })
    if (table !== 'specimen') continue
    const row = await db.selectFrom('specimen').select('updated_at').where('id', '=', id).executeTakeFirst()
    if (row)
      await db
        .updateTable('specimen')
        .set({ updated_at: laterThan(row.updated_at) })
        .where('id', '=', id)
        .execute()
    await refreshSearch(db, { specimenId: id })
  }
}

const keyOf = (table: EditedTable, id: string): string => `${table} ${id}`

async function rowsOf(db: Db, studyId: string): Promise<Map<string, Omit<RowChange, 'after'>>> {
  const found = new Map<string, Omit<RowChange, 'after'>>()
  const add = (table: EditedTable, rows: readonly Row[]) => {
    for (const row of rows) {
      const id = String(row[TABLES[table]])
      found.set(keyOf(table, id), { table, id, before: said(row) })
    }
  }
  add('variant', await db.selectFrom('variant').selectAll().where('study_id', '=', studyId).execute())
  add('specimen', await db.selectFrom('specimen').selectAll().where('study_id', '=', studyId).execute())
  add(
    'placement',
    await db
      .selectFrom('placement')
      .selectAll('placement')
      .innerJoin('specimen', 'specimen.id', 'placement.specimen_id')
      .where('specimen.study_id', '=', studyId)
      .execute(),
  )
  return found
}

async function rowOf(db: Db, table: EditedTable, id: string): Promise<Row | null> {
  const { rows } =
    await sql<Row>`select * from ${sql.table(table)} where ${sql.ref(TABLES[table])} = ${id}`.execute(db)
  return rows[0] ? said(rows[0]) : null
}

async function changesSince(
  db: Db,
  studyId: string,
  was: ReadonlyMap<string, Omit<RowChange, 'after'>>,
): Promise<RowChange[]> {
  const is = await rowsOf(db, studyId)
  const changes: RowChange[] = []
  for (const key of new Set([...was.keys(), ...is.keys()])) {
    const { table, id } = (was.get(key) ?? is.get(key))!
    const before = was.get(key)?.before ?? null
    const after = is.get(key)?.before ?? (await rowOf(db, table, id))
    if (!isSame(before, after)) changes.push({ table, id, before, after })
  }
  return changes
}

const said = (row: Row): Row =>
  Object.fromEntries(Object.entries(row).filter(([column]) => !OWN_COLUMNS.has(column)))

const isSame = (a: Row | null, b: Row | null): boolean =>
  a === null || b === null
    ? a === b
    : Object.keys({ ...a, ...b }).every(column => (a[column] ?? null) === (b[column] ?? null))
