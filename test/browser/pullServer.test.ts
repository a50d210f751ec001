import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type RunningServer, startServer } from '../../src/server/index.ts'
import { openStore, type Store, storePlace } from '../../src/store/index.ts'
import { good } from '../store/stores.ts'
import { keepScreenshot } from './app.ts'
import { startBrowser } from './browser.ts'
import { builtApp } from './builtApp.ts'
import { atMoment, inMidPull, peakOf } from './pullBench.ts'

let folder = ''
let store: Store
let webFolder = ''
let browser: Browser
let server: RunningServer
const start = async (port: number) =>
  good(await startServer({ store, port, lan: false, webFolder, onTrouble: () => {}, onFault: () => {} }))
beforeAll(async () => {
  webFolder = await builtApp()
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-pull-'))
  store = await openStore(good(storePlace(join(folder, 'store'), {})))
  browser = await startBrowser()
  server = await start(0)
}, 240_000)
afterAll(async () => {
  await browser?.close()
  await server?.stop()
  await store?.close()
  await rm(folder, { recursive: true, force: true })
})

test('a server that goes in mid-pull and comes back: the page says so, the recording is there, and pulling on joins it', async () => {
  const { port } = server
  const { study, rig, watched } = await inMidPull(server, browser)
  const { page } = watched

  // As when its terminal is closed: nothing is finished, nothing is given up.
  await server.stop()
  await atMoment(page, 'away')
  await page.getByText(/What it had on its disk is taken in/).waitFor()
  server = await start(port)
  expect(server.recovered).toBe(1)
  await atMoment(page, 'no-line')
  await page.getByText(/What was on its disk of “paste-1” by then was taken in/).waitFor()
  await keepScreenshot(page, 'pull-server-back')
  const [first] = study.specimens
  const [kept] = (await store.recordings.list({ specimenId: first?.id ?? '' })).items
  expect(kept).toMatchObject({ state: 'recovered', setAside: null })

  // Space opens the same line again, for the same specimen.
  await page.keyboard.press('Space')
  await expect.poll(() => server.desk.line().open?.kind).toBe('tcp')
  await page.waitForTimeout(300)
  rig.breaks()
  rig.rest(3)
  await atMoment(page, 'ready')
  expect(await page.locator('.pull h1').textContent()).toBe('paste-1')
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  rig.rest(1)
  rig.up(38)
  rig.breaks()
  await atMoment(page, 'let-go')
  await page.getByText('Of this recording alone: “paste-1” has 1 recording before it').waitFor()
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  // The same as Read shows: of the specimen.
  await page.getByText('Of its 2 recordings together').waitFor()
  expect(await peakOf(page.locator('.pull-reading .numeral'))).toBeCloseTo(38, 0)
  // The reading stands on the screen a moment before the recording is in the store.
  await expect
    .poll(async () => (await store.recordings.list({ specimenId: first?.id ?? '' })).items)
    .toHaveLength(2)
  // The console tells of the requests that found no server: those, and nothing else, were complained of.
  const others = watched.complaints.filter(
    text => !/ERR_CONNECTION_REFUSED|ERR_SOCKET|WebSocket|ERR_/.test(text),
  )
  expect(others).toEqual([])
  expect(watched.strays.filter(url => !url.startsWith('ws:'))).toEqual([])
  await page.close()
  await rig.close()
})
