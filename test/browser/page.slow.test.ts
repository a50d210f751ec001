import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { writeDemo } from '../../src/cli/demo/writeDemo.ts'
import type { Comparison } from '../../src/core/statistics/document.ts'
import { ran } from '../cli/fakeIo.ts'
import { good } from '../store/stores.ts'
import { keepScreenshot, openPage, seriousFaults } from './app.ts'
import { startBrowser } from './browser.ts'
import { builtApp } from './builtApp.ts'
import { type DroppedText, dropFiles } from './dropFiles.ts'
import { saved } from './saved.ts'

/** On a busy machine. */
const SOON = { timeout: 20_000 }

/** The app as one HTML file, opened from disk with a fresh profile: no server, nothing installed. */

let browser: Browser
let address = ''
let folder = ''
let headline = ''
let files: DroppedText[] = []
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-page-'))
  const demo = good(await writeDemo(folder))
  const logs = demo.specimens.flatMap(({ paths }) => paths)
  const { out } = await ran(['compare', '--json', '--specimens', demo.table, ...logs])
  headline = (JSON.parse(out) as Comparison).answer!.headline
  files = readdirSync(folder)
    .filter(name => name.endsWith('.csv'))
    .map(name => ({ name, text: readFileSync(join(folder, name), 'utf8') }))
  address = pathToFileURL(join(await builtApp('page'), 'page.html')).href
  browser = await startBrowser()
}, 240_000)
afterAll(async () => {
  await browser?.close()
  rmSync(folder, { recursive: true, force: true })
})

const LOOKS = [
  ['light', 'light', 1280],
  ['dark', 'dark', 1280],
  ['phone', 'light', 360],
] as const

/** Looks at what is on the screen in light, dark and on a phone: nothing serious, nothing that runs out sideways. */
async function checkLooks(page: Page, name: string): Promise<void> {
  for (const [look, colorScheme, width] of LOOKS) {
    await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' })
    await page.setViewportSize({ width, height: 800 })
    expect(await seriousFaults(page), `${name} in ${look}`).toEqual([])
    expect(
      await page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth'),
      `${name} in ${look}: what runs out of the page`,
    ).toBeLessThanOrEqual(0)
    await keepScreenshot(page, `page-${name}-${look}`)
  }
  await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' })
  await page.setViewportSize({ width: 1280, height: 800 })
}

const says = (page: Page, text: string) =>
  page.waitForFunction(
    `document.querySelector('.answer-headline')?.textContent === ${JSON.stringify(text)}`,
    undefined,
    { timeout: 60_000 },
  )

test('from dropped logs to the answer of the command line, kept over a reload, and what is typed outlives it', async () => {
  const watched = await openPage(browser, address)
  const { page } = watched
  await page.locator('.next-line').waitFor()
  await checkLooks(page, 'shelf-empty')
  await dropFiles(page, files)
  await page.getByRole('button', { name: 'Name it' }).click()
  await page.keyboard.type('Handles in a page')
  await page.getByRole('button', { name: 'Take in 16 logs' }).click()
  await page.getByRole('link', { name: 'Compare' }).last().click({ timeout: 150_000 })
  await says(page, headline)
  await checkLooks(page, 'compare')

  await page.reload()
  await says(page, headline)
  await page.getByRole('link', { name: 'Read', exact: false }).first().click()
  await page.locator('.numeral').first().waitFor()
  await checkLooks(page, 'read')

  // What was typed and not left is there again after a reload, and counts once it is told to.
  await page.getByRole('navigation').getByRole('link', { name: 'Plan' }).click()
  const method = page.locator('.plan-method')
  await method.fill('Pulled at a hand’s pace.\nOne after another.')
  await page.reload()
  await page.getByText('was not kept before the page was left').waitFor()
  expect(await method.inputValue()).toContain('One after another.')
  await page.getByRole('button', { name: 'Keep it' }).click()
  await page.reload()
  await method.waitFor()
  expect(await method.inputValue()).toContain('One after another.')
  await watched.close()
}, 300_000)

test('the invented study is made in the page, and a data package of it can be taken away', async () => {
  const watched = await openPage(browser, address)
  const { page } = watched
  await page.getByRole('button', { name: 'Open the invented study' }).click()
  await says(page, headline)
  await page.getByRole('navigation').getByRole('link', { name: 'Tell' }).click()
  const { name, bytes } = await saved(page, 'Save the data package')
  expect(name).toMatch(/\.zip$/)
  expect(bytes.length).toBeGreaterThan(10_000)
  await watched.close()
}, 300_000)

test('two windows of the page stay in step', async () => {
  const watched = await openPage(browser, address)
  const { page } = watched
  await page.getByRole('button', { name: 'New study' }).first().click()
  await page.keyboard.type('Cords')
  await page.keyboard.press('Tab')
  await page.keyboard.type('Which cord?')
  await page.keyboard.press('Enter')
  await expect.poll(() => page.url(), SOON).toMatch(/#\/study\/[^/]+\/plan$/)
  const second = await page.context().newPage()
  await second.goto(page.url())
  await second.getByRole('textbox', { name: 'The question' }).waitFor()
  await page.getByRole('textbox', { name: 'The question' }).fill('Which cord holds?')
  await page.keyboard.press('Enter')
  await expect
    .poll(() => second.getByRole('textbox', { name: 'The question' }).inputValue(), SOON)
    .toBe('Which cord holds?')
  await watched.close()
}, 120_000)
