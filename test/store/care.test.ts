import { mkdtemp, readdir, readFile, rm, truncate, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { gunzipSync, gzipSync } from 'node:zlib'
import { DatabaseSync } from '@photostructure/sqlite'
import { describe, expect, test } from 'vitest'
import { ARCHIVED_TABLES } from '../../src/store/archive/tables.ts'
import { restore, type Store, StoreFault, type StorePlace, storePlace } from '../../src/store/index.ts'
import { pretendRecording } from './pretendRecording.ts'
import { bad, good, inFolder, openAt } from './stores.ts'

const at = (folder: string): StorePlace => good(storePlace(folder, {}))

async function filled(folder: string): Promise<Store> {
  const store = await openAt(folder)
  for (const [step, name] of ['one', 'two', 'three'].entries()) {
    const specimen = good(await store.specimens.named({ study: 'Handles', variant: 'paste', specimen: name }))
    const forces = Array.from({ length: 400 }, (_, i) => Math.round(i * (step + 3)) / 100)
    good(
      await store.recordings.save({
        ...pretendRecording(name, forces),
        source: 'log',
        specimenId: specimen.id,
      }),
    )
    good(await store.notes.add({ kind: 'specimen', id: specimen.id }, `about ${name}`))
  }
  await store.settings.set('unit', 'kgf')
  return store
}

const hashes = async (store: Store) =>
  (await store.recordings.list({ withSetAside: true })).items
    .map(({ id, sha256, specimen, study }) => ({ id, sha256, specimen, study }))
    .sort((a, b) => (a.id < b.id ? -1 : 1))

/** Damages the database behind the store's back. */
function damage(folder: string, statement: string) {
  const raw = new DatabaseSync(join(folder, 'tenterhook.sqlite'))
  for (const { name } of raw.prepare("select name from sqlite_master where type = 'trigger'").all() as {
    name: string
  }[])
    raw.exec(`drop trigger ${name}`)
  raw.exec(statement)
  raw.close()
}
function tryDamage(folder: string, statement: string): boolean {
  try {
    damage(folder, statement)
    return true
  } catch {
    return false
  }
}

describe('backup and restore', () => {
  test('gives the same store again, and keeps the one that was there', () =>
    inFolder(async folder => {
      const file = join(folder, 'all.backup')
      const store = await filled(join(folder, 'a'))
      const before = await hashes(store)
      expect(good(await store.care.backup(file)).path).toBe(file)
      good(await store.recordings.save({ ...pretendRecording('later', [5]), source: 'log' }))
      await store.close()
      const restored = good(await restore(at(join(folder, 'a')), file))
      const back = await openAt(join(folder, 'a'))
      expect(await hashes(back)).toEqual(before)
      expect((await back.care.verify()).findings).toEqual([])
      await back.close()
      const kept = new DatabaseSync(restored.kept ?? '', { readOnly: true })
      expect(kept.prepare('select count(*) as n from recording').get()).toEqual({ n: 4 })
      kept.close()
    }))

  test('into an empty place', () =>
    inFolder(async folder => {
      const store = await filled(join(folder, 'a'))
      good(await store.care.backup(join(folder, 'b')))
      const before = await hashes(store)
      await store.close()
      expect(good(await restore(at(join(folder, 'new')), join(folder, 'b'))).kept).toBeNull()
      const back = await openAt(join(folder, 'new'))
      expect(await hashes(back)).toEqual(before)
      await back.close()
      expect(await readdir(join(folder, 'new'))).toEqual(['tenterhook.sqlite'])
    }))

  test('a backup is taken while others write', () =>
    inFolder(async folder => {
      const store = await filled(folder)
      const [saved] = await Promise.all([
        store.care.backup(join(folder, 'b')),
        ...Array.from({ length: 10 }, (_, i) =>
          store.recordings.save({ ...pretendRecording(`w${i}`, [i]), source: 'live' }),
        ),
      ])
      good(saved)
      expect((await store.recordings.list()).items).toHaveLength(13)
      await store.close()
      good(await restore(at(join(folder, 'new')), join(folder, 'b')))
      const back = await openAt(join(folder, 'new'))
      expect((await back.care.verify()).findings).toEqual([])
      await back.close()
    }))

  test('is refused while another program has the store open, cut short, changed, or no backup at all', () =>
    inFolder(async folder => {
      const file = join(folder, 'b')
      const store = await filled(join(folder, 'a'))
      good(await store.care.backup(file))
      expect(bad(await restore(at(join(folder, 'a')), file))).toContain('has the store open')
      const before = await hashes(store)
      await store.close()
      const whole = await readFile(file)
      const changed = Buffer.from(whole)
      changed[9000]! ^= 1
      await writeFile(file, changed)
      expect(bad(await restore(at(join(folder, 'a')), file))).toContain('checksum')
      await writeFile(file, whole)
      await truncate(file, whole.length - 100)
      expect(bad(await restore(at(join(folder, 'a')), file))).toContain('cut short')
      await writeFile(file, 'nothing of the kind')
      expect(bad(await restore(at(join(folder, 'a')), file))).toContain('not a backup')
      expect(bad(await restore(at(join(folder, 'a')), join(folder, 'gone')))).toContain('no such file')
      const again = await openAt(join(folder, 'a'))
      expect(await hashes(again)).toEqual(before)
      await again.close()
      expect((await readdir(join(folder, 'a'))).filter(name => name.startsWith('.'))).toEqual([])
    }))

  test('over a damaged store', () =>
    inFolder(async folder => {
      const store = await filled(join(folder, 'a'))
      good(await store.care.backup(join(folder, 'b')))
      const before = await hashes(store)
      await store.close()
      await writeFile(join(folder, 'a', 'tenterhook.sqlite'), Buffer.alloc(9000, 7))
      await expect(openAt(join(folder, 'a'))).rejects.toThrow(StoreFault)
      good(await restore(at(join(folder, 'a')), join(folder, 'b')))
      const back = await openAt(join(folder, 'a'))
      expect(await hashes(back)).toEqual(before)
      await back.close()
    }))
})

describe('export of all and import of all', () => {
  test('give the same hashes, and a second import adds nothing', () =>
    inFolder(async folder => {
      const file = join(folder, 'all.jsonl.gz')
      const store = await filled(join(folder, 'a'))
      const before = await hashes(store)
      const { rows } = good(await store.care.exportAll(file))
      await store.close()
      const other = await openAt(join(folder, 'b'))
      expect(good(await other.care.importAll(file))).toEqual({ added: rows, known: 0, renamed: [] })
      expect(await hashes(other)).toEqual(before)
      expect((await other.care.verify()).findings).toEqual([])
      expect(good(await other.care.importAll(file))).toEqual({ added: 0, known: rows, renamed: [] })
      good(await other.care.exportAll(join(folder, 'again.gz')))
      expect(gunzipSync(await readFile(join(folder, 'again.gz')))).toEqual(gunzipSync(await readFile(file)))
      await other.close()
      expect((await readdir(join(folder, 'b'))).filter(name => name.startsWith('.'))).toEqual([])
    }))

  test('two stores become one; a name that is taken gets a number', () =>
    inFolder(async folder => {
      const one = await filled(join(folder, 'a'))
      good(await one.care.exportAll(join(folder, 'x')))
      await one.close()
      const two = await filled(join(folder, 'b'))
      expect(good(await two.care.importAll(join(folder, 'x'))).renamed).toEqual(['Handles → Handles (2)'])
      expect((await two.studies.list()).map(study => study.name).sort()).toEqual(['Handles', 'Handles (2)'])
      expect((await two.recordings.list()).items).toHaveLength(6)
      expect((await two.recordings.list({ search: '(2)' })).items).toHaveLength(3)
      await two.close()
    }))

  test('a damaged, cut, foreign or newer archive adds nothing', () =>
    inFolder(async folder => {
      const file = join(folder, 'x')
      const store = await filled(join(folder, 'a'))
      good(await store.care.exportAll(file))
      await store.close()
      const lines = gunzipSync(await readFile(file))
        .toString()
        .trim()
        .split('\n')
      const other = await openAt(join(folder, 'b'))
      const imported = async (text: string) => {
        await writeFile(file, gzipSync(text))
        return bad(await other.care.importAll(file))
      }
      expect(await imported(lines.slice(0, -1).join('\n'))).toContain('cut short')
      expect(await imported(lines.map(line => line.replace('about one', 'about 1')).join('\n'))).toContain(
        'checksum',
      )
      expect(
        await imported(
          lines.map(line => line.replace('"table":"note"', '"table":"sqlite_master"')).join('\n'),
        ),
      ).toContain('no row of the table')
      expect(
        await imported(['{"document":"tenterhook.archive","version":1,"schema":999}'].join('\n')),
      ).toContain('newer')
      expect(await imported('{}')).toContain('not an archive')
      await writeFile(file, 'plain text')
      expect(bad(await other.care.importAll(file))).toContain('damaged')
      expect(await other.studies.list()).toEqual([])
      expect((await other.recordings.list()).items).toEqual([])
      await other.close()
    }))

  test('no table is left out', () =>
    inFolder(async folder => {
      await (await openAt(folder)).close()
      const raw = new DatabaseSync(join(folder, 'tenterhook.sqlite'))
      // An index over what placement holds is made anew, not carried.
      const names = raw
        .prepare(
          "select name from sqlite_master where type = 'table' and name not like 'search\\_%' escape '\\' order by name",
        )
        .all()
      raw.close()
      expect(names).toEqual(
        ['schema_version', ...ARCHIVED_TABLES.map(table => table.name)].sort().map(name => ({ name })),
      )
    }))
})

describe('verify goes on', () => {
  test('whatever stands in any column of any table: nothing is thrown, and a value of another kind is told', () =>
    inFolder(async folder => {
      await (await filled(folder)).close()
      const raw = new DatabaseSync(join(folder, 'tenterhook.sqlite'))
      const columns = ARCHIVED_TABLES.flatMap(({ name: table }) =>
        (
          raw
            .prepare(
              `select name, type from pragma_table_info('${table}') where exists (select 1 from ${table})`,
            )
            .all() as { name: string; type: string }[]
        ).map(({ name, type }) => ({ table, name, type: type.toLowerCase() })),
      )
      raw.close()
      expect(columns.length).toBeGreaterThan(60)
      const whole = await readFile(join(folder, 'tenterhook.sqlite'))
      for (const { table, name, type } of columns) {
        const other = await mkdtemp(join(tmpdir(), 'tenterhook-column-'))
        await writeFile(join(other, 'tenterhook.sqlite'), whole)
        // Some columns refuse any other value than theirs: their table says so itself.
        const isChanged = tryDamage(
          other,
          `pragma foreign_keys = off; update ${table} set "${name}" = ${type === 'blob' ? "'text'" : "x'7b00ff'"}`,
        )
        const store = await openAt(other)
        const { findings } = await store.care.verify()
        await store.close()
        if (isChanged) expect(findings.length, `${table}.${name}`).toBeGreaterThan(0)
        await rm(other, { recursive: true, force: true })
      }
    }))

  test('pages that cannot be read: what is damaged is told, and the rest is looked at', () =>
    inFolder(async folder => {
      await (await filled(folder)).close()
      const file = join(folder, 'tenterhook.sqlite')
      const bytes = await readFile(file)
      const pages = bytes.length / 4096
      for (let page = 3; page < pages; page += 3) {
        const broken = Buffer.from(bytes)
        broken.fill(0xa5, page * 4096, (page + 1) * 4096)
        await writeFile(file, broken)
        const store = await openAt(folder).catch((error: unknown) => {
          expect(error, `page ${page}`).toBeInstanceOf(StoreFault)
          expect((error as StoreFault).problem.code, `page ${page}`).toBe('store-damaged')
          return null
        })
        if (store === null) continue
        const { findings } = await store.care.verify()
        await store.close()
        expect(findings.length, `page ${page}`).toBeGreaterThan(0)
      }
    }))
})

describe('verify finds', () => {
  const damages: [string, string, RegExp][] = [
    [
      'a changed byte of the samples',
      'update recording_samples set packed = zeroblob(length(packed)) where series = 1',
      /chunk 0 is damaged/,
    ],
    [
      'samples that are gone',
      'delete from recording_samples where series = 0',
      /chunk 0 of its samples is missing/,
    ],
    ['a changed log', "update recording_log set packed = x'030000'", /log is damaged|part 0 of its log/],
    ['a log that is gone', 'delete from recording_log', /log does not match its hash \(0 of/],
    ['another hash', `update recording set sha256 = '${'0'.repeat(64)}'`, /does not match its hash/],
    ['a lost place', 'delete from placement', /lost its place/],
    [
      'a reference to nothing',
      "pragma foreign_keys = off; update specimen set study_id = 'gone'",
      /names a study that is not there/,
    ],
  ]
  test.each(damages)('%s', (_, statement, found) =>
    inFolder(async folder => {
      await (await filled(folder)).close()
      damage(folder, statement)
      const store = await openAt(folder)
      const { findings, recordings } = await store.care.verify()
      await store.close()
      expect(recordings).toBe(3)
      expect(findings.map(finding => finding.what).join('\n')).toMatch(found)
    }),
  )
})

test('the schema itself refuses to change or delete what was recorded', () =>
  inFolder(async folder => {
    await (await filled(folder)).close()
    const raw = new DatabaseSync(join(folder, 'tenterhook.sqlite'))
    for (const table of ['recording', 'recording_log', 'recording_samples']) {
      expect(() => raw.exec(`delete from ${table}`)).toThrow('written once')
      const column = table === 'recording' ? 'name' : 'recording_id'
      expect(() => raw.exec(`update ${table} set ${column} = 'x'`)).toThrow('written once')
    }
    raw.close()
  }))
