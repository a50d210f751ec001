import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { Kysely, sql } from 'kysely'
import { expect, test } from 'vitest'
import { connect, copyPages, forBuilder } from '../../../src/store/engine/sqlite/database.ts'
import { WritingSqliteDialect } from '../../../src/store/engine/sqlite/driver.ts'
import { openSqlite } from '../../../src/store/engine/sqlite/open.ts'
import { sqliteProblem } from '../../../src/store/engine/sqlite/problems.ts'
import { inFolder } from '../stores.ts'

const thrown = (work: () => unknown): unknown => {
  try {
    work()
  } catch (error) {
    return error
  }
  throw new Error('expected an error')
}

test('what is written comes back: numbers to the last bit, text, bytes, nothing', () =>
  inFolder(async folder => {
    const { db, close } = openSqlite(join(folder, 'x.sqlite'))
    const values = [0.1 + 0.2, -1e-300, 2 ** 53 - 1, -(2 ** 53 - 1), 'é ✓ 𝄞', '', null, 10n]
    for (const value of values) {
      const { rows } = await sql<{ value: unknown }>`select ${value} as value`.execute(db)
      expect(rows.map(row => row.value)).toEqual([typeof value === 'bigint' ? Number(value) : value])
    }
    const bytes = Uint8Array.from({ length: 1000 }, (_, i) => i)
    const { rows } = await sql<{ value: Uint8Array }>`select ${bytes.subarray(3, 700)} as value`.execute(db)
    expect(Array.from(rows[0]?.value ?? [])).toEqual(Array.from(bytes.subarray(3, 700)))
    await close()
  }))

test('nothing of a text is cut off in silence', () =>
  inFolder(async folder => {
    const { db, close } = openSqlite(join(folder, 'x.sqlite'))
    const { rows } = await sql`select ${'glue\0 number 4'} as value`.execute(db)
    expect(rows).toEqual([{ value: 'glue␀ number 4' }])
    await close()
  }))

test('an integer that a number cannot hold is an error, not another integer', () =>
  inFolder(async folder => {
    const { db, close } = openSqlite(join(folder, 'x.sqlite'))
    await expect(sql`select ${2n ** 53n + 1n} as value`.execute(db)).rejects.toThrow('too large')
    await close()
  }))

test('a change tells how many rows it changed, and what it returns', () =>
  inFolder(async folder => {
    const db = new Kysely<{ t: { a: number } }>({
      dialect: new WritingSqliteDialect({
        database: forBuilder(connect(join(folder, 'x'), { busyMs: 10 })),
      }),
    })
    await sql`create table t (a integer primary key)`.execute(db)
    await db
      .insertInto('t')
      .values([{ a: 5 }, { a: 7 }])
      .execute()
    const added = await db.insertInto('t').values({ a: 9 }).returning('a').execute()
    expect(added).toEqual([{ a: 9 }])
    expect(
      (await db.updateTable('t').set({ a: 1 }).where('a', '=', 7).executeTakeFirst()).numUpdatedRows,
    ).toBe(1n)
    const streamed: number[] = []
    for await (const { a } of db.selectFrom('t').selectAll().orderBy('a').stream()) streamed.push(a)
    expect(streamed).toEqual([1, 5, 9])
    await db.destroy()
  }))

test('once closed, a store is one file and nobody has it open, however much was asked of it', () =>
  inFolder(async folder => {
    const engine = openSqlite(join(folder, 'x.sqlite'))
    for (let i = 0; i < 50; i++) await sql`select ${i}`.execute(engine.db)
    await engine.snapshot(async db => sql`select 1`.execute(db))
    await engine.faults()
    await engine.close()
    expect(await readdir(folder)).toEqual(['x.sqlite'])
    const other = connect(join(folder, 'x.sqlite'), { busyMs: 0 })
    // Refused while any other connection is there.
    other.exec('pragma journal_mode = delete')
    other.close()
  }))

test('while another writes, a second writer is told that the store is busy', () =>
  inFolder(async folder => {
    const path = join(folder, 'x.sqlite')
    const one = connect(path, { busyMs: 0 })
    one.exec('pragma journal_mode = wal; create table t (a); begin immediate')
    const two = connect(path, { busyMs: 0 })
    expect(
      sqliteProblem(
        'here',
        thrown(() => two.exec('begin immediate')),
      )?.what,
    ).toContain('busy')
    expect(
      sqliteProblem(
        'here',
        thrown(() => two.exec('this is no statement')),
      ),
    ).toBeNull()
    two.close()
    one.close()
  }))

test('a copy may lie under any name', () =>
  inFolder(async folder => {
    const source = connect(join(folder, 'x.sqlite'), { busyMs: 0 })
    source.exec('create table t (a); insert into t values (1)')
    await copyPages(source, join(folder, '50%20 #é?mode=ro.sqlite'))
    source.close()
    const copy = connect(join(folder, '50%20 #é?mode=ro.sqlite'), { busyMs: 0 })
    expect(copy.prepare('select a from t').all()).toEqual([{ a: 1 }])
    copy.close()
  }))
