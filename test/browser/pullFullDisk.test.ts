import { readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { journalContents } from '../../src/capture/journal/entries.ts'
import { type RunningServer, startServer } from '../../src/server/index.ts'
import { openStore, type Store, storePlace } from '../../src/store/index.ts'
import { limitedDisk, mayMount, type SmallDisk, tmpfsDisk } from '../faults/noRoom.ts'
import { good } from '../store/stores.ts'
import { keepScreenshot } from './app.ts'
import { startBrowser } from './browser.ts'
import { builtApp } from './builtApp.ts'
import { atMoment, inMidPull } from './pullBench.ts'

// A small disk in memory where it may be mounted, else the system's limit for the size of files of this process.
const way = mayMount ? 'on a disk in memory (tmpfs)' : 'under the limit for the size of files (prlimit)'

let disk: SmallDisk
let store: Store
let browser: Browser
let server: RunningServer
beforeAll(async () => {
  const webFolder = await builtApp()
  disk = (mayMount ? await tmpfsDisk() : await limitedDisk()) as SmallDisk
  if (!mayMount) process.on('SIGXFSZ', () => {})
  store = await openStore(good(storePlace(join(disk.folder, 'store'), {})))
  browser = await startBrowser()
  const options = { store, port: 0, lan: false, webFolder, onTrouble: () => {}, onFault: () => {} }
  server = good(await startServer(options))
}, 240_000)
afterAll(async () => {
  await browser?.close()
  await server?.stop()
  await store?.close()
  await disk?.remove()
})

test(`${way}: full in mid-pull, the page says what is not kept yet and what can be done; room is all it takes`, async () => {
  const { rig, watched } = await inMidPull(server, browser)
  const { page } = watched
  await disk.fill(process.pid)
  rig.rest(20)
  await page
    .getByText(/capture goes on in memory/)
    .first()
    .waitFor()
  rig.breaks()
  await atMoment(page, 'let-go')
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')

  const panel = page.locator('.pull-unsaved')
  await panel.waitFor()
  expect(await panel.getAttribute('data-kept')).toBe('memory')
  expect(await panel.textContent()).toMatch(/“paste-1”, [\d,]+ samples: not kept yet/)
  expect(await panel.textContent()).toMatch(/in memory alone: it is not kept yet/)
  // Nowhere on the page is it called kept, saved or safe.
  const all = await page.locator('main').textContent()
  expect(all).not.toMatch(/“paste-1” is kept|\bsaved\b|\bsafe\b/i)
  // Under the limit this process itself may not write a picture.
  if (mayMount) await keepScreenshot(page, 'pull-disk-full')

  // The whole recording can be saved from the browser meanwhile, and taken in anywhere.
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    panel.getByRole('button', { name: /file/i }).click(),
  ])
  expect(download.suggestedFilename()).toMatch(/\.journal$/)
  const pieces: Buffer[] = []
  for await (const piece of await download.createReadStream()) pieces.push(piece as Buffer)
  const saved = journalContents(new Uint8Array(Buffer.concat(pieces)))
  const [name = ''] = await readdir(join(disk.folder, 'store', 'journals'))
  const onDisk = journalContents(await readFile(join(disk.folder, 'store', 'journals', name)))
  expect(saved?.samples).toBeGreaterThan(onDisk?.samples ?? Number.NaN)

  await disk.free(process.pid)
  await panel.waitFor({ state: 'detached' })
  await page
    .getByText(/“paste-1” is kept/)
    .first()
    .waitFor()
  const { items } = await store.recordings.list({})
  expect(items).toHaveLength(1)
  expect(items[0]).toMatchObject({
    state: 'complete',
    specimen: { name: 'paste-1' },
    samples: saved?.samples,
  })
  expect((await store.care.verify()).findings).toEqual([])
  await rig.close()
  // What else the page wanted to be kept was refused, as it must be; nothing else went wrong.
  expect(watched.complaints.filter(text => !text.includes('507 (Insufficient Storage)'))).toEqual([])
  await page.context().close()
})
