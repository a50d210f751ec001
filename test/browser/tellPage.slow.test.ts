import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { texts } from '../../src/web/texts/index.ts'
import { ran } from '../cli/fakeIo.ts'
import { openPage, seriousFaults, type WatchedPage } from './app.ts'
import { startBrowser } from './browser.ts'
import { builtApp } from './builtApp.ts'
import { preview, saved } from './saved.ts'

/** Tell in the one HTML file that opens from disk: the same page and package, made without a server. */

const LONG = { timeout: 120_000 }
let browser: Browser
let address = ''
let watched: WatchedPage

/** The page with the invented study, open at Tell. */
async function openTell(): Promise<WatchedPage> {
  const opened = await openPage(browser, address)
  const { page } = opened
  await page.getByRole('button', { name: texts.shelf.openDemo }).click()
  await page.waitForURL(/#\/study\//, LONG)
  await page.getByRole('link', { name: new RegExp(`^${texts.app.places.tell}`) }).click()
  await preview(page).getByRole('heading', { level: 2, name: 'Method' }).waitFor(LONG)
  return opened
}

beforeAll(async () => {
  address = pathToFileURL(join(await builtApp('page'), 'page.html')).href
  browser = await startBrowser()
  watched = await openTell()
}, 480_000)
afterAll(async () => {
  await watched?.close()
  await browser?.close()
})

test('the report is made, shown and saved, links within it stay within it, and nothing serious is found', async () => {
  const { page } = watched
  await preview(page).getByRole('link', { name: 'Care' }).click()
  await expect
    .poll(() => preview(page).getByRole('heading', { level: 1 }).textContent(), LONG)
    .toContain('Carrier-bag handles')
  const { name, bytes } = await saved(page, 'Save as a web page')
  expect(name).toMatch(/^carrier-bag-handles.*\.html$/)
  const report = bytes.toString('utf8')
  expect(report).toContain('src: url(data:font/ttf;base64,')
  expect(report.match(/data-curve/g)?.length).toBeGreaterThan(10)
  await page.getByText(texts.tell.printWhat).waitFor()
  expect(await seriousFaults(page)).toEqual([])
}, 240_000)

test('the package that it makes verifies with the command', async () => {
  const { name, bytes } = await saved(watched.page, 'Save the data package')
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-page-'))
  try {
    const path = join(folder, name)
    await writeFile(path, bytes)
    const { code, out } = await ran(['verify', path])
    expect(out).toContain('none differs')
    expect(code).toBe(0)
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}, 300_000)
