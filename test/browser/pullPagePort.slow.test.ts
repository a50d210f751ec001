import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, keepScreenshot, seriousFaults, startApp } from './app.ts'
import { atMoment, forceOn, openPull, peakOf, studyToPull } from './pullBench.ts'
import { converter, SERIAL_STUB } from './serialStub.ts'

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp()
}, 240_000)
afterEach(async () => {
  const { desk } = app.server
  if (desk.recording) await desk.giveUp('the test is over')
  await desk.close()
})
afterAll(() => app?.stop())

const lost = (page: Page) => page.locator('[data-alarm="line-lost"]')

test('this computer’s own port, through the browser: a pull with the cable out and in, and the page reloaded in mid-pull', async () => {
  const study = await studyToPull(app, ['page-1'])
  const { page, close } = await openPull(app, study.place)
  await page.addInitScript(SERIAL_STUB)
  await page.reload()
  await page.getByLabel('This computer’s own port, through the browser').check()
  await page.getByLabel(/^Speed/).fill('57600')
  await keepScreenshot(page, 'pull-page-port')
  expect(await seriousFaults(page)).toEqual([])
  await page.getByRole('button', { name: 'Open the line' }).last().click()
  await expect.poll(() => app.server.desk.line().open?.name).toBe('port of a page, USB 1a86:7523, 57600 baud')
  expect(await page.evaluate('bench.opened')).toEqual([57_600])
  const device = converter(page)
  await device.say('time_ms,force_N\n')
  await device.says(3, () => 0)
  await atMoment(page, 'ready')
  await page.evaluate('document.activeElement.blur()')
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  await device.says(1, () => 0)
  await device.says(2, t => 10 * t)
  await atMoment(page, 'pulling')

  await page.evaluate('bench.unplug()')
  await lost(page).waitFor()
  expect(await lost(page).textContent()).toMatch(/unplugged/)
  await atMoment(page, 'pulling')
  await page.evaluate('bench.plugIn()')
  await lost(page).waitFor({ state: 'detached', timeout: 20_000 })
  await device.says(1, t => 20 + 10 * t)
  await expect.poll(() => forceOn(page)).toBeCloseTo(30, 0)

  // Another place of the app does not let the port go.
  await page.getByRole('link', { name: /^Plan/ }).click()
  await device.says(0.4, () => 30)
  await page.getByRole('link', { name: /^Pull/ }).click()
  await atMoment(page, 'pulling')
  // After a reload the page takes it again by itself.
  await page.reload()
  await expect.poll(() => page.evaluate('bench.isOpen'), { timeout: 20_000 }).toBe(true)
  await lost(page).waitFor({ state: 'detached', timeout: 20_000 })
  await atMoment(page, 'pulling')
  await device.says(0.5, t => 30 + 10 * t)
  await device.says(2, () => 0)
  await atMoment(page, 'let-go')
  await page.evaluate('document.activeElement.blur()')
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  expect(await peakOf(page.locator('.pull-reading .numeral'))).toBeCloseTo(35, 0)
  await page.keyboard.press('Space')
  await page.getByRole('button', { name: 'Close the line' }).click()
  await expect.poll(() => page.evaluate('bench.isOpen')).toBe(false)
  await close()
}, 180_000)

test('a browser without ports for pages offers none', async () => {
  const study = await studyToPull(app, ['page-2'])
  const { page, close } = await openPull(app, study.place)
  await page.addInitScript(`delete Navigator.prototype.serial`)
  await page.reload()
  await page.getByLabel('Network line').waitFor()
  expect(await page.getByLabel('This computer’s own port, through the browser').count()).toBe(0)
  await close()
})
