import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { keepDemoStudy } from '../../src/server/demoStudy.ts'
import { openStore, type Store, storePlace } from '../../src/store/index.ts'
import { good } from '../store/stores.ts'
import {
  addSpecimen,
  keptIn,
  newStudy,
  type PageBench,
  pageBench,
  toPlace,
  waitForKept,
} from './pageBench.ts'
import { atMoment } from './pullBench.ts'
import { converter, SERIAL_STUB } from './serialStub.ts'

/** All that a page keeps, moved to a store and back: the same hashes, nothing lost, nothing twice. */

let bench: PageBench
let folder: string
const stores: Store[] = []
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-whole-'))
  bench = await pageBench({ script: SERIAL_STUB })
}, 240_000)
afterAll(async () => {
  await bench?.stop()
  for (const store of stores) await store.close()
  rmSync(folder, { recursive: true, force: true })
})

async function emptyStore(name: string): Promise<Store> {
  const store = await openStore(good(storePlace(join(folder, name), {})))
  stores.push(store)
  return store
}

/** What the store holds of recordings, as hashes of their logs with the specimen that each is of. */
const hashesIn = async (store: Store) =>
  (await store.recordings.list({ withSetAside: true, limit: 1000 })).items
    .map(({ sha256, specimen }) => `${specimen?.name} ${sha256}`)
    .sort()

async function toShelf(page: Page): Promise<void> {
  await page.goto(page.url().replace(/#.*$/, '#/'))
  await page.getByRole('heading', { name: 'Kept in this browser' }).waitFor()
}

async function saved(page: Page, path: string): Promise<void> {
  await toShelf(page)
  const download = page.waitForEvent('download')
  await page.locator('.shelf-keeping').getByRole('button', { name: 'Save everything as one file' }).click()
  await (await download).saveAs(path)
}

/** Takes a file in and waits until the page says this of it. */
async function take(page: Page, path: string, said: RegExp): Promise<void> {
  await toShelf(page)
  await page.locator('.shelf-keeping input[type="file"]').setInputFiles(path)
  await page.getByText(said).waitFor()
}

test('what was pulled in the page is taken in by a store whole, and read there', async () => {
  const { page } = bench
  const device = converter(page)
  await newStudy(page, 'Knots', ['reef'])
  await toPlace(page, 'pull')
  await addSpecimen(page, 'reef')
  await page.getByRole('button', { name: 'Choose the port' }).click()
  await page.getByRole('button', { name: 'Open the line' }).last().click()
  await device.says(3, () => 0)
  await atMoment(page, 'ready')
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  await device.says(2, t => 20 * t)
  await device.says(2, () => 0)
  await atMoment(page, 'let-go')
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  const [kept] = await waitForKept(page, 1)
  // Until it was saved it is asked for.
  await page.getByText('1 recording is in this browser alone').waitFor()
  const file = join(folder, 'page.jsonl.gz')
  await saved(page, file)
  await page.getByText('1 recording is in this browser alone').waitFor({ state: 'detached' })

  const store = await emptyStore('from-page')
  const imported = good(await store.care.importAll(file))
  expect(imported.renamed).toEqual([])
  expect((await store.care.verify()).findings).toEqual([])
  expect(await hashesIn(store)).toEqual([`reef-1 ${kept?.sha256}`])
  const [study] = await store.studies.list()
  const [reading] = await store.readings.latestOfStudy(study?.id ?? '')
  expect(reading?.reading.results.peakForce.valueN).toBeCloseTo(40, 0)
  // It is found by its words, which the page does not make.
  expect((await store.recordings.list({ search: 'knots reef' })).items).toHaveLength(1)
  const loaded = good(await store.recordings.load(kept?.id ?? ''))
  expect(loaded.timeS.length).toBe(kept?.samplesThere)
  // The same again adds nothing.
  expect(good(await store.care.importAll(file)).added).toBe(0)
}, 120_000)

test('a whole store is taken in by the page, goes back the same, and is not taken twice', async () => {
  const { page } = bench
  const store = await emptyStore('demo')
  good(await keepDemoStudy(store))
  const archive = join(folder, 'store.jsonl.gz')
  good(await store.care.exportAll(archive))
  await take(page, archive, /^[1-9]\d+ entries were added, 0 were here already/)
  const kept = await keptIn(page)
  const demo = await hashesIn(store)
  expect(demo.length).toBeGreaterThan(10)
  expect(kept.map(({ sha256 }) => sha256)).toEqual(
    expect.arrayContaining(demo.map(line => line.split(' ').at(-1))),
  )
  await take(page, archive, /^0 entries were added, [1-9]\d+ were here already/)
  expect(await keptIn(page)).toHaveLength(kept.length)

  const back = join(folder, 'back.jsonl.gz')
  await saved(page, back)
  const again = await emptyStore('again')
  good(await again.care.importAll(back))
  expect((await again.care.verify()).findings).toEqual([])
  expect(await hashesIn(again)).toEqual(expect.arrayContaining(demo))
  const [study] = (await store.studies.list()).filter(({ name }) => name !== 'Knots')
  expect(good(await again.studies.get(study?.id ?? ''))).toEqual(study)
  expect(await again.specimens.list(study?.id ?? '')).toEqual(await store.specimens.list(study?.id ?? ''))
  expect(await again.variants.list(study?.id ?? '')).toEqual(await store.variants.list(study?.id ?? ''))
  expect(await again.rigs.list()).toEqual(await store.rigs.list())
  const readings = await store.readings.latestOfStudy(study?.id ?? '')
  expect(await again.readings.latestOfStudy(study?.id ?? '')).toEqual(readings)
}, 120_000)

test('a file that was damaged on the way is refused, and nothing of it is taken', async () => {
  const { page } = bench
  const before = await keptIn(page)
  const bytes = readFileSync(join(folder, 'store.jsonl.gz'))
  const cut = join(folder, 'cut.jsonl.gz')
  writeFileSync(cut, bytes.subarray(0, bytes.length >> 1))
  await take(page, cut, /Nothing here was touched/)
  expect(await keptIn(page)).toEqual(before)
}, 60_000)
