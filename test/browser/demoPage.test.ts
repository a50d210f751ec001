import { mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { ran } from '../cli/fakeIo.ts'
import { startBrowser } from './browser.ts'

const screenshots = fileURLToPath(new URL('../../screenshots/', import.meta.url))
const axeScript = createRequire(import.meta.url).resolve('axe-core/axe.min.js')

let folder = ''
let browser: Browser
let output = ''

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-demo-'))
  mkdirSync(screenshots, { recursive: true })
  const demo = await ran(['demo', '--out', folder])
  expect(demo.code, demo.err).toBe(0)
  output = demo.out
  browser = await startBrowser()
}, 120_000)

afterAll(async () => {
  await browser?.close()
  rmSync(folder, { recursive: true, force: true })
})

/** The page at a width, with everything it asked for and complained of. */
async function opened(width: number): Promise<{ page: Page; asked: string[]; complaints: string[] }> {
  const page = await browser.newPage({ viewport: { width, height: 800 } })
  const asked: string[] = []
  const complaints: string[] = []
  page.on('request', request => asked.push(request.url()))
  page.on('console', message => complaints.push(message.text()))
  page.on('pageerror', error => complaints.push(String(error)))
  await page.goto(pathToFileURL(join(folder, 'index.html')).href)
  await page.evaluate('document.fonts.ready.then(() => true)')
  return { page, asked, complaints }
}

test('the demo prints the question, each specimen with its doubt, a verdict, and where the page is', () => {
  expect(output).toContain('Which of three ways')
  expect(output.match(/^ {2}(hot-melt|wheat-paste|stitching)-\d {2,}\S/gm)).toHaveLength(15)
  expect(output).toContain(pathToFileURL(join(folder, 'index.html')).href)
  expect(output).toContain('not for rating lifting')
})

test('the page asks nothing of a network and complains of nothing', async () => {
  const { page, asked, complaints } = await opened(1100)
  expect(asked.filter(url => !/^(file|data):/.test(url))).toEqual([])
  expect(complaints).toEqual([])
  await page.screenshot({ path: join(screenshots, 'demo-page.png'), fullPage: true })
  await page.close()
})

test('every figure is there, described, and in the shipped typeface', async () => {
  const { page } = await opened(1100)
  expect(await page.locator('figure svg').count()).toBe(16)
  expect(await page.locator('figure svg > desc').count()).toBe(16)
  expect(await page.evaluate('document.fonts.check("16px Atkinson Hyperlegible")')).toBe(true)
  await page.close()
})

test('on a phone the page does not scroll sideways; only its figures may', async () => {
  const { page } = await opened(360)
  const width = await page.evaluate('document.documentElement.scrollWidth')
  expect(width).toBe(360)
  await page.screenshot({ path: join(screenshots, 'demo-page-360.png') })
  await page.close()
})

test.each([1100, 360])('an accessibility check at %d px finds nothing serious', async width => {
  // The page's own policy forbids scripts; the checker is let in beside it.
  const context = await browser.newContext({ bypassCSP: true, viewport: { width, height: 800 } })
  const checked = await context.newPage()
  await checked.goto(pathToFileURL(join(folder, 'index.html')).href)
  await checked.addScriptTag({ path: axeScript })
  const found = await checked.evaluate(async () => {
    const { axe } = globalThis as unknown as {
      axe: { run(): Promise<{ violations: { id: string; impact: string }[] }> }
    }
    return (await axe.run()).violations.map(({ id, impact }) => ({ id, impact }))
  })
  expect(found.filter(v => v.impact === 'serious' || v.impact === 'critical')).toEqual([])
  await context.close()
})
