import { type Kysely, sql } from 'kysely'
import type { ArchivedTable } from './tables.ts'

export type Row = Record<string, unknown>

/** All rows of a table in the order of its key, a few at a time. */
export async function* rowsOf(db: Kysely<unknown>, { name, key, atOnce }: ArchivedTable): AsyncIterable<Row> {
  const columns = sql.join(key.map(column => sql.ref(column)))
  let last: unknown[] | null = null
  for (;;) {
    const after: ReturnType<typeof sql> = last ? sql`where (${columns}) > (${sql.join(last)})` : sql``
    const { rows } =
      await sql<Row>`select * from ${sql.table(name)} ${after} order by ${columns} limit ${sql.lit(atOnce)}`.execute(
        db,
      )
    yield* rows
    const end = rows.at(-1)
    if (!end || rows.length < atOnce) return
    last = key.map(column => end[column])
  }
}

export async function rowThere(
  db: Kysely<unknown>,
  { name, key }: ArchivedTable,
  row: Row,
): Promise<boolean> {
  const same = sql.join(
    key.map(column => sql`${sql.ref(column)} = ${row[column]}`),
    sql` and `,
  )
  const { rows } = await sql`select 1 from ${sql.table(name)} where ${same} limit 1`.execute(db)
  return rows.length > 0
}

export async function insertRow(db: Kysely<unknown>, table: string, row: Row): Promise<void> {
  const names = sql.join(Object.keys(row).map(column => sql.ref(column)))
  await sql`insert into ${sql.table(table)} (${names}) values (${sql.join(Object.values(row))})`.execute(db)
}
