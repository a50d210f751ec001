import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import type { Browser, BrowserContextOptions, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { fontFaces } from '../../src/publish/node/assets.ts'
import { answerPageOf } from '../../src/publish/report/answer.ts'
import { reportHtml } from '../../src/publish/report/html.ts'
import { reportOf } from '../../src/publish/report/report.ts'
import { hostileDemo, toldDemo } from '../publish/toldDemo.ts'
import { startBrowser } from './browser.ts'

const screenshots = fileURLToPath(new URL('../../screenshots/', import.meta.url))
const axeScript = createRequire(import.meta.url).resolve('axe-core/axe.min.js')

let folder = ''
let browser: Browser

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-report-'))
  mkdirSync(screenshots, { recursive: true })
  const study = await toldDemo()
  const fonts = { fontFaces: fontFaces() }
  writeFileSync(join(folder, 'report.html'), await reportHtml(reportOf(study), fonts))
  writeFileSync(join(folder, 'answer.html'), await reportHtml(answerPageOf(study), fonts))
  writeFileSync(join(folder, 'hostile.html'), await reportHtml(reportOf(hostileDemo(study)), fonts))
  browser = await startBrowser()
}, 120_000)
afterAll(async () => {
  await browser?.close()
  rmSync(folder, { recursive: true, force: true })
})

/** The page with everything it asked for and complained of. */
async function opened(
  name: string,
  options: BrowserContextOptions = {},
): Promise<{ page: Page; asked: string[]; complaints: string[]; close: () => Promise<void> }> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options })
  const page = await context.newPage()
  const asked: string[] = []
  const complaints: string[] = []
  page.on('request', request => asked.push(request.url()))
  page.on('console', message => complaints.push(message.text()))
  page.on('pageerror', error => complaints.push(String(error)))
  await page.goto(pathToFileURL(join(folder, name)).href)
  await page.evaluate('document.fonts.ready.then(() => true)')
  return { page, asked, complaints, close: () => context.close() }
}

const CURVE = '#figure-specimen-2'

test('opened from disk it asks nothing of a network and complains of nothing', async () => {
  const { page, asked, complaints, close } = await opened('report.html')
  expect(asked.filter(url => !/^(file|data):/.test(url))).toEqual([])
  expect(complaints).toEqual([])
  expect(await page.locator('.look').count()).toBe(15)
  await page.screenshot({ path: join(screenshots, 'report-1280.png') })
  await close()
})

test('nothing hostile runs, and all of it is read as text', async () => {
  const { page, complaints, close } = await opened('hostile.html')
  expect(await page.title()).toContain('<img src=x')
  expect(await page.locator('img').count()).toBe(2)
  expect(complaints).toEqual([])
  await close()
})

describe('a curve looked at closer', () => {
  const curveOf = (page: Page) => page.locator(`${CURVE} .page svg`)
  const ticksOf = (page: Page) => curveOf(page).locator('[data-part=time] text').allTextContents()
  /** From where, how far, of the woven stretches of the selvedge: as drawn, and as their weave shows. */
  const spansOf = (page: Page, rects: string) =>
    curveOf(page)
      .locator(`[data-from]:has(clipPath) > ${rects}`)
      .evaluateAll(all => all.map(one => [one.getAttribute('x'), one.getAttribute('width')]))
  const stretchesOf = (page: Page) => spansOf(page, 'rect')
  const weavesOf = (page: Page) => spansOf(page, 'clipPath > rect')

  test('zooms by its buttons and comes back whole', async () => {
    const { page, close } = await opened('report.html')
    const path = curveOf(page).locator('[data-part=curve]')
    const whole = await path.getAttribute('d')
    const ticks = await ticksOf(page)
    const stretches = await stretchesOf(page)
    await page.locator(`${CURVE} button`, { hasText: 'Closer' }).click()
    await page.locator(`${CURVE} button`, { hasText: 'Closer' }).click()
    expect(await path.getAttribute('d')).not.toBe(whole)
    expect(await ticksOf(page)).not.toEqual(ticks)
    expect(await weavesOf(page)).toEqual(await stretchesOf(page))
    expect(await stretchesOf(page)).not.toEqual(stretches)
    await page.screenshot({ path: join(screenshots, 'report-closer.png') })
    await page.locator(`${CURVE} button`, { hasText: 'All' }).click()
    expect(await path.getAttribute('d')).toBe(whole)
    expect(await ticksOf(page)).toEqual(ticks)
    await close()
  })
  test('says what it read under the pointer: the peak at the peak', async () => {
    const { page, close } = await opened('report.html')
    await curveOf(page).scrollIntoViewIfNeeded()
    const ring = await curveOf(page).locator('[data-at] circle').first().boundingBox()
    if (ring === null) throw new Error('the peak is not marked')
    await page.mouse.move(ring.x + ring.width / 2, ring.y + ring.height / 2)
    const said = await page.locator(`${CURVE} output`).textContent()
    const [, force] = /s: ([\d.]+)\skgf\s\([\d.]+\sN\)$/.exec(said ?? '') ?? []
    const heading = await page.locator('#specimen-2').textContent()
    const [, peak] = /: ([\d.]+)\s(?:kgf\s)?[±(]/.exec(heading ?? '') ?? []
    // Within a pixel of the peak it has begun to fall.
    expect(Math.abs(Number(force) - Number(peak))).toBeLessThan(0.3)
    await close()
  })
  test('drags when zoomed, and goes by keys alone', async () => {
    const { page, close } = await opened('report.html')
    const figure = page.locator(CURVE)
    await figure.focus()
    await page.keyboard.press('+')
    await page.keyboard.press('+')
    const zoomed = await ticksOf(page)
    await page.keyboard.press('Shift+ArrowLeft')
    await page.keyboard.press('Shift+ArrowLeft')
    expect(await ticksOf(page)).not.toEqual(zoomed)
    await page.keyboard.press('ArrowRight')
    expect(await figure.locator('output').textContent()).toMatch(/ s: /)
    const before = await ticksOf(page)
    const box = await curveOf(page).boundingBox()
    if (box === null) throw new Error('no figure')
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2]
    await page.mouse.move(x, y)
    await page.mouse.down()
    await page.mouse.move(x - 200, y, { steps: 4 })
    await page.mouse.up()
    expect(await ticksOf(page)).not.toEqual(before)
    await page.keyboard.press('0')
    await close()
  })
})

test('without scripts the curves stand as they are', async () => {
  const { page, close } = await opened('report.html', { javaScriptEnabled: false })
  expect(await page.locator('.look').count()).toBe(0)
  expect(await page.locator(`${CURVE} .page svg`).isVisible()).toBe(true)
  await close()
})

test('on a phone nothing scrolls sideways but its tables, and figures stand upright with type of 12 px', async () => {
  const { page, close } = await opened('report.html', { viewport: { width: 360, height: 800 } })
  expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(360)
  expect(await page.locator(`${CURVE} .page`).isVisible()).toBe(false)
  expect(await page.locator(`${CURVE} .upright svg`).isVisible()).toBe(true)
  await page.locator(CURVE).scrollIntoViewIfNeeded()
  await page.screenshot({ path: join(screenshots, 'report-360.png') })
  await close()
})

test('figures follow the dark page, and paper has the colours of print', async () => {
  const { page, close } = await opened('report.html', { colorScheme: 'dark' })
  const paper = () =>
    page.evaluate(`getComputedStyle(document.querySelector('${CURVE} .page svg > rect')).fill`)
  expect(await paper()).toBe('rgb(18, 22, 27)')
  await page.screenshot({ path: join(screenshots, 'report-dark.png') })
  await page.emulateMedia({ media: 'print', colorScheme: 'dark' })
  expect(await paper()).toBe('rgb(255, 255, 255)')
  expect(await page.locator('nav').isVisible()).toBe(false)
  await close()
})

test.each([
  ['report.html', 1280, 'light'],
  ['report.html', 360, 'dark'],
  ['answer.html', 1280, 'light'],
  ['answer.html', 360, 'dark'],
] as const)('an accessibility check of %s at %d px, %s, finds nothing', async (name, width, colorScheme) => {
  // The page's own policy lets in no other script; the checker comes in beside it.
  const { page, close } = await opened(name, {
    bypassCSP: true,
    viewport: { width, height: 900 },
    colorScheme,
  })
  await page.addScriptTag({ path: axeScript })
  const found = await page.evaluate(async () => {
    const { axe } = globalThis as unknown as {
      axe: { run(): Promise<{ violations: { id: string; impact: string; nodes: { html: string }[] }[] }> }
    }
    return (await axe.run()).violations.map(({ id, impact, nodes }) => ({
      id,
      impact,
      at: nodes[0]?.html.slice(0, 120),
    }))
  })
  expect(found).toEqual([])
  await close()
})

test('the answer alone is one sheet of paper, and keeps each figure with its unit', async () => {
  const { page, close } = await opened('answer.html')
  await page.screenshot({ path: join(screenshots, 'answer-1280.png'), fullPage: true })
  const text = (await page.locator('main p, main li').allTextContents()).join(' ')
  expect(text).toContain('Stitching holds most.')
  expect(text).toMatch(/\d\u00a0kgf/)
  expect(text).not.toMatch(/\d (kgf|N|%)(?![\p{L}\p{N}])/u)
  const pdf = await page.pdf({ format: 'A4' })
  // PDF 32000-1, 7.7.3.3: each page is an object of the type Page.
  expect(pdf.toString('latin1').match(/\/Type \/Page\b/g)).toHaveLength(1)
  await close()
})
