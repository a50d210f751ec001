import type { Page } from 'playwright-core'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { seriousFaults } from './app.ts'
import { addSpecimen, newStudy, type PageBench, pageBench, toPlace, waitForKept } from './pageBench.ts'
import { atMoment, peakOf } from './pullBench.ts'
import { converter, SERIAL_STUB } from './serialStub.ts'

/** Pull in the one HTML file, without any server. The serial port is a stub of the browser's interface. */

let bench: PageBench
let complaints: string[] = []
let asked: string[] = []
beforeEach(async () => {
  bench = await pageBench({ script: SERIAL_STUB })
  complaints = []
  asked = []
  bench.context.on('request', request => asked.push(request.url()))
  bench.page.on('console', message => complaints.push(message.text()))
  bench.page.on('pageerror', error => complaints.push(String(error)))
}, 240_000)
afterEach(() => bench.stop())

async function openPort(page: Page): Promise<void> {
  await page.getByLabel('Serial port of this computer').check()
  await page.getByRole('button', { name: 'Choose the port' }).click()
  await page.getByText('Chosen: USB 1a86:7523').waitFor()
  await page.getByRole('button', { name: 'Open the line' }).last().click()
}

test('a practice pull is recorded, read and kept, and asks nobody for anything', async () => {
  const { page } = bench
  await newStudy(page, 'Knots', ['reef', 'granny'])
  await toPlace(page, 'pull')
  await addSpecimen(page, 'reef')
  await page.getByLabel('Pretend rig').check()
  await page.getByLabel('What it pulls').selectOption('brittle')
  await page.getByRole('button', { name: 'Open the line' }).last().click()
  await atMoment(page, 'pulling')
  await atMoment(page, 'let-go')
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  const [kept] = await waitForKept(page, 1)
  expect(kept).toMatchObject({ source: 'live', state: 'complete', device: /^pretend rig brittle/ })
  expect(await peakOf(page.getByRole('button', { name: /^Peak force/ }))).toBeGreaterThan(10)
  expect(asked.filter(url => !/^(data|blob|file):/.test(url))).toEqual([])
  expect(complaints).toEqual([])
}, 120_000)

test('a pull over a serial port of the browser is kept whole, and a lead that was cut and put back is told in it', async () => {
  const { page } = bench
  const device = converter(page)
  await newStudy(page, 'Knots', ['reef'])
  await toPlace(page, 'pull')
  await addSpecimen(page, 'reef')
  await openPort(page)
  await device.says(3, () => 0)
  await atMoment(page, 'ready')
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  await device.says(1, () => 0)
  await device.says(2, t => 20 * t)
  await atMoment(page, 'pulling')
  await page.evaluate('bench.unplug()')
  await page.locator('[data-alarm="line-lost"]').waitFor()
  await page.evaluate('bench.plugIn()')
  await page.locator('[data-alarm="line-lost"]').waitFor({ state: 'detached' })
  await device.says(0.5, t => 40 + 20 * t)
  await device.says(2, () => 0)
  await atMoment(page, 'let-go')
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  const [kept] = await waitForKept(page, 1)
  // From five seconds before the tug on, all that was said: 3 + 1 + 2 + 0.5 + 2 s, 50 times a second.
  expect(kept?.samplesThere).toBeGreaterThanOrEqual(6.5 * 50)
  expect(kept?.samplesThere).toBeLessThanOrEqual(8.5 * 50)
  expect(kept?.device).toContain('USB 1a86:7523, 115200 baud')
  const peak = page.getByRole('button', { name: /^Peak force/ })
  expect(await peakOf(peak)).toBeGreaterThan(49)
  expect(await peakOf(peak)).toBeLessThan(51)
  expect(complaints).toEqual([])
}, 120_000)

test('a browser that is killed in the middle of a pull: what was due is recovered when the page is opened again', async () => {
  const { page } = bench
  await newStudy(page, 'Knots', ['reef'])
  await toPlace(page, 'pull')
  await addSpecimen(page, 'reef')
  await openPort(page)
  await page.evaluate('bench.run(200, 6)')
  await atMoment(page, 'ready')
  await page.keyboard.press('Space')
  await atMoment(page, 'pulling')
  await page.waitForTimeout(1_000)
  // What was said 200 ms ago is due.
  const said = await page.evaluate<number>('bench.said')
  await page.waitForTimeout(200)
  process.kill(bench.pid, 'SIGKILL')
  await bench.close().catch(() => {})
  bench = await bench.again()
  await bench.page.locator('[data-recovered="1"]').waitFor()
  const [kept] = await waitForKept(bench.page, 1)
  expect(kept).toMatchObject({ source: 'live', state: 'recovered' })
  expect(kept?.specimenId).not.toBeNull()
  expect(kept?.lastOfChannel).toBeGreaterThanOrEqual(said - 1)
  expect(kept?.samplesThere).toBe(kept?.samples)
}, 120_000)

test('two windows never record into one study at once', async () => {
  const { page } = bench
  await newStudy(page, 'Knots', ['reef'])
  await toPlace(page, 'pull')
  await addSpecimen(page, 'reef')
  await openPort(page)
  await page.evaluate('bench.run(100, 60)')
  await atMoment(page, 'ready')
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  const other = await bench.context.newPage()
  await other.goto(page.url())
  await other.getByLabel('Pretend rig').check()
  await other.getByRole('button', { name: 'Open the line' }).last().click()
  await other.getByText('another window of this browser is recording into it').waitFor()
  // It holds for as long as the first has it in hand.
  await page.keyboard.press('Escape')
  await atMoment(page, 'ready')
  await atMoment(other, 'ready')
  await other.keyboard.press('Space')
  await atMoment(other, 'armed')
}, 120_000)

test('it works at the width of a phone', async () => {
  const { page } = bench
  await page.setViewportSize({ width: 360, height: 640 })
  await newStudy(page, 'Knots', ['reef'])
  await toPlace(page, 'pull')
  await addSpecimen(page, 'reef')
  await openPort(page)
  await converter(page).says(3, () => 0)
  await atMoment(page, 'ready')
  expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(360)
  expect(await seriousFaults(page)).toEqual([])
}, 120_000)

test('without serial ports it says which browsers have them, and takes the log of a pull as before', async () => {
  const { page } = bench
  await page.addInitScript("Object.defineProperty(Navigator.prototype, 'serial', { get: () => null })")
  await page.reload()
  await newStudy(page, 'Knots', ['reef'])
  await toPlace(page, 'pull')
  await page.getByText('browsers built on Chromium do').waitFor()
  expect(await page.getByLabel('Serial port of this computer').count()).toBe(0)
  await page.getByRole('link', { name: 'Drop logs' }).click()
  await page.locator('input[type="file"]').first().waitFor({ state: 'attached' })
}, 120_000)
