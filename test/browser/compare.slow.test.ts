import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { writeDemo } from '../../src/cli/demo/writeDemo.ts'
import type { Comparison } from '../../src/core/statistics/document.ts'
import { ran } from '../cli/fakeIo.ts'
import { good } from '../store/stores.ts'
import { type AppUnderTest, checkEveryLook, startApp, type WatchedPage } from './app.ts'

let app: AppUnderTest
let place = ''
beforeAll(async () => {
  app = await startApp({ demo: true })
  place = `/study/${app.demoId}/compare`
}, 240_000)
afterAll(() => app?.stop())

async function opened(): Promise<WatchedPage> {
  const watched = await app.open(place)
  await watched.page.locator('.answer-headline').waitFor()
  return watched
}

/** The answer and the ranking, as they stand; a figure and its unit are kept together by a space that does not break. */
const verdictOf = async (page: Page): Promise<string> =>
  plain((await page.locator('.answer-headline, .compare-ranked').allTextContents()).join(' '))
const plain = (text: string): string => text.replaceAll('\u00a0', ' ')
const unfold = (page: Page, name: string) => page.locator('summary', { hasText: RegExp(`^${name}`) }).click()
/** Waits until the verdict is this one, or any but it. */
const verdictIs = (page: Page, text: string, is = true) =>
  expect.poll(async () => (await verdictOf(page)) === text, { timeout: 20_000 }).toBe(is)
const dot = (page: Page, name: string) => page.locator(`.compare-dot[title^="${name}:"]`)

test('says what the command line says of the same logs, to the last digit', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-compare-'))
  const demo = good(await writeDemo(folder))
  const logs = demo.specimens.flatMap(({ paths }) => paths)
  const { out } = await ran(['compare', '--json', '--specimens', demo.table, '--rig', demo.rig, ...logs])
  const told = JSON.parse(out) as Comparison
  const { page, close } = await opened()
  expect(await page.locator('.answer-headline').textContent()).toBe(told.answer!.headline)
  expect(await page.locator('.compare-ranked h3').allTextContents()).toEqual(
    told.answer!.ranking.map(({ name }) => ` ${name}`),
  )
  expect(plain((await page.locator('.next-line').textContent()) ?? '')).toContain(told.answer!.next.text)
  await unfold(page, 'Every pair')
  const text = async (selector: string) => plain((await page.locator(selector).textContent()) ?? '')
  expect(await text('.compare-verdict')).toBe(told.verdict)
  expect(await text('.compare-not-shown')).toBe(told.notShown)
  expect(await text('.compare-statistics')).toBe(told.inStatistics)
  await close()
  await rm(folder, { recursive: true })
})

test('a specimen left out for a moment changes the answer, and is back at once', async () => {
  const { page, close } = await opened()
  const before = await verdictOf(page)
  await dot(page, 'hot-melt-5').focus()
  await page.keyboard.press('Enter')
  await page.getByRole('heading', { name: 'Without hot-melt-5' }).waitFor()
  await verdictIs(page, before, false)
  expect(await page.locator('.compare-try').textContent()).toContain('hot-melt')
  await page.getByRole('button', { name: 'Put back' }).click()
  await verdictIs(page, before)
  await close()
})

test('leaving out for good asks for a reason, shows it, and can be undone', async () => {
  const { page, close } = await opened()
  const before = await verdictOf(page)
  await dot(page, 'hot-melt-5').click()
  await page.getByRole('button', { name: 'Leave out' }).click()
  await page.getByText('A reason is needed').waitFor()
  await page.getByLabel('Leave out for good, because').fill('=the bag tore, not the handle')
  await page.getByRole('button', { name: 'Leave out' }).click()
  await page.getByText('hot-melt-5 is left out.').waitFor()
  await unfold(page, 'Figures of each specimen')
  const row = page.locator('tr', { hasText: 'hot-melt-5' }).last()
  await row.getByText('=the bag tore, not the handle').waitFor()
  await page.reload()
  await page.locator('.answer-headline').waitFor()
  expect(await verdictOf(page)).not.toBe(before)
  await dot(page, 'hot-melt-4').waitFor()
  const kept = await app.store.specimens.list(app.demoId)
  const left = kept.find(({ name }) => name === 'hot-melt-5')
  expect(left).toMatchObject({ status: 'left-out', statusReason: '=the bag tore, not the handle' })
  good(await app.store.specimens.update(left?.id ?? '', { status: 'pulled', statusReason: '' }))
  await close()
})

test('undo takes it back', async () => {
  const { page, close } = await opened()
  const before = await verdictOf(page)
  await dot(page, 'hot-melt-1').click()
  await page.getByLabel('Leave out for good, because').fill('dropped on the floor')
  await page.getByRole('button', { name: 'Leave out' }).click()
  await page.getByText('hot-melt-1 is left out.').waitFor()
  await page.getByRole('button', { name: 'Undo' }).click()
  await verdictIs(page, before)
  await close()
})

test('another quantity is counted; a dot and its curve are pointed at together', async () => {
  const { page, close } = await opened()
  await unfold(page, 'Compare something else')
  await page.getByLabel('What is compared').selectOption('partialBreaks')
  await page.locator('.compare-axis-name', { hasText: 'partial breaks' }).waitFor()
  await page.locator('.answer-headline', { hasText: 'none can be told best' }).waitFor()
  await page.getByLabel('What is compared').selectOption('peakForce')
  const height = () => page.evaluate('document.documentElement.scrollHeight')
  await page.locator('.compare-overlay canvas').waitFor()
  const before = await height()
  await dot(page, 'stitching-1').hover()
  await page.getByText('stitching, stitching-1').waitFor()
  // Nothing moves away from under the pointer by being pointed at.
  expect(await height()).toBe(before)
  await page.getByLabel('Put together at').selectOption('break')
  await close()
})

test('the table is sorted, filtered and copied', async () => {
  const { page, close } = await opened()
  await page.context().grantPermissions(['clipboard-read', 'clipboard-write'])
  await unfold(page, 'Figures of each specimen')
  await page.getByRole('button', { name: 'value' }).click()
  const first = () => page.locator('table').last().locator('tbody tr').first().textContent()
  expect(await first()).toContain('wheat-paste-3')
  await page.getByRole('button', { name: 'value' }).click()
  expect(await first()).toContain('stitching-1')
  await page.getByLabel('Show only rows that contain').fill('hot melt tore')
  expect(await page.locator('table').last().locator('tbody tr').count()).toBe(1)
  await page.getByRole('button', { name: 'Copy the table' }).click()
  await page.getByText('Copied').waitFor()
  const copied = (await page.evaluate('navigator.clipboard.readText()')) as string
  expect(copied.split('\n')).toHaveLength(2)
  expect(copied).toContain('hot-melt-5\t')
  await close()
})

test('across two studies every variant has its study before its name', async () => {
  const other = good(await app.store.studies.create({ name: 'Another <b>day</b>' }))
  const { page, close } = await opened()
  await unfold(page, 'Compare something else')
  await page.locator('summary', { hasText: 'Also from other studies' }).click()
  await page.getByLabel('Another <b>day</b>').check()
  await page.getByRole('heading', { name: /Carrier-bag handles.*: hot-melt/ }).waitFor()
  good(await app.store.studies.remove(other.id))
  await close()
})

test('holds in every look, and nothing serious is found', async () => {
  await checkEveryLook(app, place, 'compare', async page => {
    await page.locator('.answer-headline').waitFor()
    await page.locator('.compare-overlay canvas').waitFor()
    for (const summary of await page.locator('.folded > summary').all()) await summary.click()
  })
}, 120_000)

test('one way of failing, borrowed scatter, a load to hold and the weeks are a press away', async () => {
  const { page, close } = await opened()
  await unfold(page, 'How many held a given load')
  await page.getByLabel('The load').fill('1')
  await page.getByLabel('The load').press('Enter')
  await page
    .getByText(/held\s1\s/)
    .first()
    .waitFor()
  await unfold(page, 'Few specimens: borrow')
  await page.getByText('With two to four of a variant its scatter is hardly known').waitFor()
  await unfold(page, 'Over the weeks')
  await page
    .getByText(/No variant is marked as control|tell nothing yet|No change is told|From 20/)
    .first()
    .waitFor()
  await unfold(page, 'Compare something else')
  const modes = page.getByLabel('Failing by')
  const names = await modes.locator('option').allTextContents()
  expect(names.length).toBeGreaterThan(2)
  await modes.selectOption({ index: 1 })
  await unfold(page, 'Every pair')
  await expect
    .poll(() => page.locator('.compare-verdict').textContent(), { timeout: 20_000 })
    .toMatch(/^Against failing by/)
  await close()
})
