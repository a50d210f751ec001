import { copyFile, readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { DatabaseSync } from '@photostructure/sqlite'
import { describe, expect, test } from 'vitest'
import { typedPeakOf, typedReading } from '../../../src/core/reading/typedReading.ts'
import { fewFacts } from '../../../src/logs/specimens/readSpecimen.ts'
import { writeArchive } from '../../../src/store/archive/write.ts'
import { openSqlite } from '../../../src/store/engine/sqlite/open.ts'
import { StoreFault } from '../../../src/store/index.ts'
import { migrate, SCHEMA_VERSION, schemaVersion } from '../../../src/store/schema/migrate.ts'
import { pretendRecording } from '../pretendRecording.ts'
import { good, inFolder, openAt } from '../stores.ts'

const versions = fileURLToPath(new URL('../versions', import.meta.url))

test('a file of every version is kept', async () => {
  expect((await readdir(versions)).sort()).toEqual(
    Array.from({ length: SCHEMA_VERSION }, (_, i) => `${i + 1}.sqlite`).sort(),
  )
})

describe.each(Array.from({ length: SCHEMA_VERSION }, (_, i) => i + 1))('a store of version %i', version => {
  test('opens with all that was in it, and takes more', () =>
    inFolder(async folder => {
      await copyFile(join(versions, `${version}.sqlite`), join(folder, 'tenterhook.sqlite'))
      const store = await openAt(folder)
      const { recording, log } = pretendRecording('old.csv')
      const loaded = good(await store.recordings.load('old-one'))
      expect(loaded.forceN).toEqual(recording.forceN)
      const { specimen, study, logBytes } = good(await store.recordings.get('old-one'))
      expect([study?.name, specimen?.name, logBytes]).toEqual(['Handles', 'paste 1', log.length])
      expect((await store.rigs.list()).map(rig => rig.name)).toEqual(['bench'])
      expect(await store.calibrations.list()).toHaveLength(1)
      expect(await store.settings.get('unit')).toBe('kgf')
      expect((await store.recordings.list({ search: 'PASTE old' })).items).toHaveLength(1)
      good(await store.recordings.save({ ...pretendRecording('new.csv', [7, 8]), source: 'log' }))
      expect((await store.care.verify()).findings).toEqual([])
      await store.close()
      const kept = (await readdir(folder)).filter(name => name.startsWith('before-version-'))
      expect(kept).toHaveLength(version < SCHEMA_VERSION ? 1 : 0)
    }))

  test('can be taken in elsewhere from an archive that was written then', () =>
    inFolder(async folder => {
      await copyFile(join(versions, `${version}.sqlite`), join(folder, 'old.sqlite'))
      const old = openSqlite(join(folder, 'old.sqlite'))
      good(await writeArchive(old, version, join(folder, 'old.gz')))
      await old.close()
      const store = await openAt(folder)
      expect(good(await store.care.importAll(join(folder, 'old.gz'))).known).toBe(0)
      expect((await store.recordings.list({ search: 'paste old' })).items).toHaveLength(1)
      expect((await store.care.verify()).findings).toEqual([])
      await store.close()
    }))

  test('has the same tables, columns, indexes and triggers in the end as one made anew', () =>
    inFolder(async folder => {
      const shape = (file: string) => {
        const raw = new DatabaseSync(file, { readOnly: true })
        const rows = raw
          .prepare(
            "select type, name, tbl_name from sqlite_master where name not like 'sqlite_%' order by 1, 2",
          )
          .all() as { type: string; tbl_name: string }[]
        const columns = rows
          .filter(row => row.type === 'table')
          .map(row => [row.tbl_name, raw.prepare(`pragma table_info(${row.tbl_name})`).all()])
        raw.close()
        return { rows, columns }
      }
      await copyFile(join(versions, `${version}.sqlite`), join(folder, 'tenterhook.sqlite'))
      await (await openAt(folder)).close()
      await (await openAt(join(folder, 'new'))).close()
      expect(shape(join(folder, 'tenterhook.sqlite'))).toEqual(
        shape(join(folder, 'new', 'tenterhook.sqlite')),
      )
    }))
})

test('a peak that was typed before version 7 becomes what was said of its specimen', () =>
  inFolder(async folder => {
    const file = join(folder, 'tenterhook.sqlite')
    await copyFile(join(versions, '6.sqlite'), file)
    const raw = new DatabaseSync(file)
    const { id, study_id } = raw.prepare('select id, study_id from specimen').get() as {
      id: string
      study_id: string
    }
    const facts = fewFacts({ name: 'paste 1' })!
    const peak = {
      value: 5.12,
      unit: 'kgf',
      isAtLeast: true,
      step: 0.02,
      doubt: 0.05,
      who: 'Ada: the first',
    } as const
    const add = raw.prepare('insert into reading values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)')
    for (const [at, value] of [7, peak.value].entries())
      add.run(
        `typed-${at}`,
        id,
        `2026-01-0${at + 1}`,
        '1',
        '[]',
        '{}',
        JSON.stringify(typedReading(facts, { ...peak, value })),
        'at-least',
        1,
        1,
      )
    raw.close()
    const store = await openAt(folder)
    expect(good(await store.specimens.get(id)).typedPeak).toEqual(peak)
    expect(typedPeakOf((await store.readings.latestOfStudy(study_id))[0]!.reading)).toEqual(peak)
    good(await store.specimens.update(id, { typedPeak: null }))
    expect(await store.readings.latestOfStudy(study_id)).toEqual([])
    expect(await store.readings.history({ specimenId: id })).toEqual([])
    await store.close()
  }))

test('a store that a newer program wrote is left alone', () =>
  inFolder(async folder => {
    await (await openAt(folder)).close()
    const raw = new DatabaseSync(join(folder, 'tenterhook.sqlite'))
    raw.prepare('insert into schema_version values (?, ?)').run(SCHEMA_VERSION + 1, 'x')
    raw.close()
    await expect(openAt(folder)).rejects.toThrow(/newer Tenterhook wrote/)
    await expect(openAt(folder)).rejects.toThrow(StoreFault)
  }))

test('a step that fails leaves the version before, and nothing of the step', () =>
  inFolder(async folder => {
    const engine = openSqlite(join(folder, 'x.sqlite'))
    const broken = {
      ...engine,
      writtenOnceSql: () => ['this is no statement'],
    }
    await expect(migrate(broken)).rejects.toThrow()
    expect(await schemaVersion(engine)).toBe(0)
    expect(await engine.db.introspection.getTables()).toEqual([])
    expect(await migrate(engine)).toEqual({ from: 0, to: SCHEMA_VERSION })
    await engine.close()
  }))
