import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { expect, test } from 'vitest'
import { ENGINE_VERSION } from '../../src/core/version.ts'
import { openPage } from './app.ts'
import { startBrowser } from './browser.ts'
import { builtApp } from './builtApp.ts'

/** The app as one HTML file, as it is given to others. */

const MOST_BYTES = 4 * 1024 * 1024
const folder = await builtApp('page')
const file = join(folder, 'page.html')

test('it is one file that a friend’s mailbox takes', () => {
  expect(readdirSync(folder).sort()).toEqual(['licences.md', 'page.html'])
  expect(readFileSync(file).length).toBeLessThanOrEqual(MOST_BYTES)
})

test('it tells its version, and asks nobody for anything, wherever one goes in it', async () => {
  const browser = await startBrowser()
  try {
    const asked: string[] = []
    const { page, close } = await openPage(browser, 'about:blank')
    page.context().on('request', request => asked.push(request.url()))
    await page.goto(`${pathToFileURL(file).href}#/settings`)
    await page.getByText(ENGINE_VERSION, { exact: true }).waitFor()
    await page.goto(pathToFileURL(file).href)
    await page.getByRole('button', { name: 'New study' }).first().click()
    await page.getByLabel('Name').first().fill('Knots')
    await page.locator('.shelf-form textarea').fill('reef\ngranny')
    await page.locator('.shelf-form button[type="submit"]').click()
    await page.getByLabel('The question of this study').waitFor()
    for (const place of ['rig', 'pull', 'read', 'compare', 'tell', 'plan']) {
      await page.goto(page.url().replace(/[a-z]+$/, place))
      await page.locator(`.notebook[data-place="${place}"] main`).waitFor()
      await page.waitForLoadState('networkidle')
    }
    const outside = asked.filter(
      url => !/^(data|blob|about):/.test(url) && !url.startsWith(pathToFileURL(file).href),
    )
    expect(asked.some(url => url.startsWith(pathToFileURL(file).href))).toBe(true)
    expect(outside).toEqual([])
    await close()
  } finally {
    await browser.close()
  }
}, 240_000)
