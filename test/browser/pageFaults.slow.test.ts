import type { Page } from 'playwright-core'
import { afterEach, beforeEach, expect, test } from 'vitest'
import {
  addSpecimen,
  newStudy,
  openPort,
  type PageBench,
  pageAddress,
  pageBench,
  toPlace,
  waitForKept,
} from './pageBench.ts'
import { atMoment } from './pullBench.ts'
import { SERIAL_STUB } from './serialStub.ts'

/** What goes wrong around a page that records by itself. The serial port is a stub of the browser's interface. */

/** Counts what the page asks of the browser. */
const ASKED = `
  globalThis.askedFor = { awake: 0, kept: 0 }
  const request = navigator.wakeLock.request.bind(navigator.wakeLock)
  navigator.wakeLock.request = kind => { askedFor.awake++; return request(kind) }
  const persist = navigator.storage.persist.bind(navigator.storage)
  navigator.storage.persist = () => { askedFor.kept++; return persist() }
`

let bench: PageBench
beforeEach(async () => {
  bench = await pageBench({ script: `${SERIAL_STUB};${ASKED}` })
}, 240_000)
afterEach(() => bench.stop())

async function recording(page: Page, linesPerS: number): Promise<void> {
  await newStudy(page, 'Knots', ['reef'])
  await toPlace(page, 'pull')
  await addSpecimen(page, 'reef')
  await openPort(page)
  await page.evaluate(`bench.run(${linesPerS}, 5)`)
  await atMoment(page, 'ready')
  await page.keyboard.press('Space')
  await atMoment(page, 'pulling')
}

test('a tab that is closed in the middle of a pull: what was due is there when the page is opened again', async () => {
  const { page, context } = bench
  await recording(page, 200)
  // The screen is kept on, and the browser was asked to keep what is pulled.
  expect(await page.evaluate('askedFor')).toMatchObject({ awake: 1, kept: 1 })
  const said = await page.evaluate<number>('bench.said')
  await page.waitForTimeout(200)
  const next = await context.newPage()
  await page.close()
  await next.goto(await pageAddress())
  await next.locator('[data-recovered="1"]').waitFor()
  const [kept] = await waitForKept(next, 1)
  expect(kept).toMatchObject({ state: 'recovered' })
  expect(kept?.lastOfChannel).toBeGreaterThanOrEqual(said - 1)
  // It is told once, and nothing is kept twice.
  await next.reload()
  await next.locator('.shelf-keeping').waitFor()
  expect(await next.locator('[data-recovered]').count()).toBe(0)
  expect(await waitForKept(next, 1)).toHaveLength(1)
}, 240_000)

test('a window that records is no journal left behind for another that is opened', async () => {
  const { page, context } = bench
  await recording(page, 100)
  const other = await context.newPage()
  await other.goto(await pageAddress())
  await other.locator('.shelf-keeping').waitFor()
  await other.waitForTimeout(2_000)
  expect(await other.locator('[data-recovered]').count()).toBe(0)
  await atMoment(page, 'let-go')
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  const kept = await waitForKept(page, 1)
  expect(kept).toHaveLength(1)
  expect(kept[0]).toMatchObject({ state: 'complete' })
}, 240_000)

test('a full storage is told, the recording goes on in memory, and all of it is kept once there is room', async () => {
  const { page, context } = bench
  const session = await context.newCDPSession(page)
  const quota = (quotaSize?: number) =>
    session.send('Storage.overrideQuotaForOrigin', {
      origin: 'file://',
      ...(quotaSize === undefined ? {} : { quotaSize }),
    })
  await recording(page, 200)
  await quota(1)
  await page.locator('[data-alarm="not-on-disk"]').waitFor({ timeout: 30_000 })
  await page.waitForTimeout(2_000)
  const said = await page.evaluate<number>('bench.said')
  await quota()
  await page.locator('[data-alarm="not-on-disk"]').waitFor({ state: 'detached', timeout: 30_000 })
  await atMoment(page, 'let-go')
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  const [kept] = await waitForKept(page, 1)
  expect(kept?.lastOfChannel).toBeGreaterThanOrEqual(said)
  // None is missing between the first and the last.
  expect(kept?.samplesThere).toBe((kept?.lastOfChannel ?? 0) - (kept?.firstOfChannel ?? 0) + 1)
}, 240_000)
