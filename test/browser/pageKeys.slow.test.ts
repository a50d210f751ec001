import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { writeDemo } from '../../src/cli/demo/writeDemo.ts'
import { good } from '../store/stores.ts'
import { keepScreenshot, openPage } from './app.ts'
import { startBrowser } from './browser.ts'
import { builtApp } from './builtApp.ts'

/** On a busy machine. */
const SOON = { timeout: 60_000 }

/** The one HTML file, opened from disk, with the keyboard alone: from logs to a corrected reading and a comparison. */

let browser: Browser
let address = ''
let folder = ''
let logs: string[] = []
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-keys-'))
  const demo = good(await writeDemo(folder))
  logs = demo.specimens
    .flatMap(({ paths }) => paths)
    .filter(path => /(hot-melt|wheat-paste)-[1-3]/.test(basename(path)))
  address = pathToFileURL(join(await builtApp('page'), 'page.html')).href
  browser = await startBrowser()
}, 240_000)
afterAll(async () => {
  await browser?.close()
  rmSync(folder, { recursive: true, force: true })
})

const MOST_STOPS = 150

/** What has the keyboard, as it is said. */
const focused = (page: Page) =>
  page.evaluate(`(() => {
    const { activeElement: one } = document
    const words = one?.getAttribute('aria-label') ?? one?.labels?.[0]?.textContent ?? one?.textContent ?? ''
    return words.trim()
  })()`) as Promise<string>

/** Goes on by Tab until something of this name has the keyboard. */
async function tabTo(page: Page, name: RegExp): Promise<void> {
  const passed: string[] = []
  for (let i = 0; i < MOST_STOPS; i++) {
    await page.keyboard.press('Tab')
    const now = await focused(page)
    if (name.test(now)) return
    passed.push(now)
  }
  throw new Error(`no stop is called ${name}; there were: ${passed.slice(-60).join(' | ')}`)
}

async function press(page: Page, name: RegExp): Promise<void> {
  await tabTo(page, name)
  await page.keyboard.press('Enter')
}

test('logs are chosen, named and taken in; a reading is corrected; a specimen is left out to see what changes', async () => {
  const watched = await openPage(browser, address)
  const { page } = watched
  await page.locator('.next-line').waitFor()
  const choosing = page.waitForEvent('filechooser')
  // What catches the chooser is in the page only after it has answered once.
  await page.evaluate('0')
  await page.keyboard.press('Control+o')
  await (await choosing).setFiles(logs)
  await page.getByRole('button', { name: 'Name it' }).waitFor(SOON)
  await press(page, /^Name it$/)
  await page.keyboard.type('By keys')
  await press(page, new RegExp(`^Take in ${logs.length} logs$`))
  await page.getByRole('main').getByRole('link', { name: 'Compare', exact: true }).waitFor(SOON)
  await press(page, /^Compare$/)
  await page.locator('.answer-headline').waitFor(SOON)

  await press(page, /^Read/)
  await page.locator('.read-result .numeral').waitFor(SOON)
  const heading = page.getByRole('heading', { level: 1 })
  const first = await heading.textContent()
  await page.keyboard.press('.')
  await expect.poll(() => heading.textContent(), SOON).not.toBe(first)
  await page.locator('.read-result .numeral').waitFor(SOON)
  await tabTo(page, /^Force curve of/)
  const curve = page.getByRole('slider', { name: /^Force curve of/ })
  const whole = await curve.getAttribute('aria-valuetext')
  await page.keyboard.press('+')
  await expect.poll(() => curve.getAttribute('aria-valuetext'), SOON).not.toBe(whole)
  await page.keyboard.press('0')
  await press(page, /^Number of elements$/)
  expect(await focused(page)).toBe('Elements')
  await page.keyboard.type('16')
  await tabTo(page, /^Why$/)
  await page.keyboard.type('counted by hand')
  await tabTo(page, /^Who$/)
  await page.keyboard.type('Ann')
  await page.keyboard.press('Enter')
  await page.locator('.foot-line').getByText('Kept:').waitFor(SOON)
  await page.reload()
  await page.locator('.read-adjustments li').getByText('counted by hand — Ann').waitFor(SOON)

  await press(page, /^Compare/)
  await page.locator('.answer-headline').waitFor(SOON)
  await press(page, /^hot-melt 1:/)
  await page.getByRole('heading', { name: 'Without hot-melt 1' }).waitFor(SOON)
  await keepScreenshot(page, 'page-keys-compare')
  await press(page, /^Put back$/)
  await page.getByRole('heading', { name: 'Without hot-melt 1' }).waitFor({ state: 'detached', ...SOON })
  await watched.close()
}, 300_000)
