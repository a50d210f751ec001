import { chmod, mkdtemp, readdir, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { diskFiles } from '../../src/capture/node/diskFiles.ts'
import { openStore, storePlace } from '../../src/store/index.ts'
import { good } from './stores.ts'

let folder = ''
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-owner-'))
})
afterEach(() => rm(folder, { recursive: true, force: true }))

const rights = async (path: string) => ((await stat(path)).mode & 0o777).toString(8)

// Windows has other rights than these.
const onPosix = process.platform !== 'win32'
test('folder, database, its helpers, a journal and a backup can be read by their owner alone, whoever made them', async () => {
  const place = good(storePlace(join(folder, 'made', 'store'), {}))
  // As a recording makes them, before any store is there.
  const journals = join(place.folder, 'journals')
  await diskFiles.makeFolder(journals)
  const journal = await diskFiles.create(join(journals, 'a.journal'), 0)
  const store = await openStore(place)
  await store.studies.create({ name: 'private' })
  good(await store.care.backup(join(folder, 'kept.backup')))
  const files = (await readdir(place.folder)).filter(name => name.startsWith('tenterhook.sqlite'))
  expect(files).toContain('tenterhook.sqlite-wal')
  const paths = [
    ...files.map(name => join(place.folder, name)),
    join(journals, 'a.journal'),
    join(folder, 'kept.backup'),
  ]
  if (onPosix) {
    for (const path of paths) expect([path, await rights(path)]).toEqual([path, '600'])
    for (const path of [join(folder, 'made'), place.folder, journals])
      expect([path, await rights(path)]).toEqual([path, '700'])
  }
  await journal.close()
  await store.close()
})

test('a database that others could read is theirs to read no more once it was opened', async () => {
  const place = good(storePlace(folder, {}))
  await (await openStore(place)).close()
  await chmod(place.file, 0o644)
  await (await openStore(place)).close()
  if (onPosix) expect(await rights(place.file)).toBe('600')
  // What is no store is still told as such.
  await writeFile(place.file, 'no database')
  await expect(openStore(place)).rejects.toThrow(/not a store/)
})
