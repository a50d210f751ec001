import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { fontFaces } from '../../src/publish/node/assets.ts'
import { reportHtml } from '../../src/publish/report/html.ts'
import { reportOf } from '../../src/publish/report/report.ts'
import { publishedStudy } from '../../src/server/publishedStudy.ts'
import { good } from '../store/stores.ts'
import { type AppUnderTest, checkEveryLook, startApp, unfoldAnswered } from './app.ts'
import { preview, saved } from './saved.ts'

/** The Tell of a study: its page is put together, previewed, kept, and saved as the command line writes it. */

let app: AppUnderTest
let place = ''
beforeAll(async () => {
  app = await startApp({ demo: true })
  place = `/study/${app.demoId}/tell`
}, 240_000)
afterAll(() => app?.stop())

const LONG = { timeout: 60_000 }
const press = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click()
const isShown = (page: Page) => preview(page).getByRole('heading', { level: 2, name: 'Method' }).waitFor(LONG)

test('parts are moved by keyboard and by dragging, left out and written in; a reload shows the same', async () => {
  const watched = await app.open(place, { height: 1400 })
  const { page } = watched
  await isShown(page)
  await page.getByRole('button', { name: 'Move “Method” up', exact: true }).focus()
  await page.keyboard.press('Enter')
  await page.keyboard.press('Enter')
  expect(await page.evaluate('document.activeElement.getAttribute("aria-label")')).toBe('Move “Method” up')
  // The page makes room for the line that tells it: what is measured before that stands elsewhere after.
  await page.getByText('“Method” was moved.').waitFor(LONG)
  const cite = await page.locator('[data-line="cite"] .tell-handle').boundingBox()
  const rig = await page.locator('[data-line="rig"] .tell-handle').boundingBox()
  await page.mouse.move(cite!.x + 10, cite!.y + 10)
  await page.mouse.down()
  await page.mouse.move(rig!.x + 10, rig!.y + 10, { steps: 5 })
  await page.mouse.up()
  await page.getByText('“How to cite” was moved.').waitFor(LONG)
  await page.getByRole('checkbox', { name: 'Show “Notes and photos”' }).uncheck()
  await press(page, 'Edit “Answer”')
  await page.getByLabel('Your words before it').fill('Handles tear <b>first</b> at the glue.')
  await page.getByLabel('Your words before it').blur()
  const words = preview(page).getByText('Handles tear <b>first</b> at the glue.')
  await words.waitFor(LONG)
  const heads = () => preview(page).locator('h2').allTextContents()
  await expect.poll(heads, LONG).not.toContain('Notes')
  const before = await heads()
  expect(before.indexOf('Method')).toBeLessThan(before.indexOf('Curves and scatter'))
  expect(before.indexOf('How to cite')).toBe(before.indexOf('Rig and calibration') - 1)
  await page.reload()
  await words.waitFor(LONG)
  expect(await heads()).toEqual(before)
  expect(await page.locator('iframe.tell-frame').getAttribute('sandbox')).toBe('allow-scripts allow-modals')
  await watched.close()
}, 240_000)

test('the saved page is letter for letter that of the command, and Undo takes a change back', async () => {
  const watched = await app.open(place)
  const { page } = watched
  const { name, bytes } = await saved(page, 'Save as a web page')
  expect(name).toBe('carrier-bag-handles-an-invented-study.html')
  const study = good(await publishedStudy(app.store, app.demoId))
  const written = await reportHtml(reportOf(study), { look: 'system', fontFaces: fontFaces() })
  expect(bytes.toString('utf8') === written, 'the same letters').toBe(true)
  const cite = page.getByRole('checkbox', { name: 'Show “How to cite”' })
  await cite.uncheck()
  await page.getByText('“How to cite” is not on the page.').waitFor(LONG)
  await press(page, 'Undo')
  await expect.poll(() => cite.isChecked(), LONG).toBe(true)
  await watched.close()
}, 240_000)

test('what was changed elsewhere is told before it is written over: the page, the question, the method', async () => {
  const watched = await app.open(place)
  const { page, complaints } = watched
  await isShown(page)
  const kept = async () => good(await app.store.studies.get(app.demoId))
  const told = page.getByText('it was changed elsewhere after it was opened here')
  // From another computer: no word of it comes to this window.
  const fromElsewhere = async (fields: Parameters<typeof app.store.studies.update>[1]) => {
    good(await app.store.studies.update(app.demoId, fields))
  }
  await fromElsewhere({ plannedPerVariant: 7 })
  const before = (await kept()).tell
  // It is back at once, which `uncheck` would take for a fault.
  await page.getByRole('checkbox', { name: 'Show “Method”' }).click()
  await told.waitFor(LONG)
  expect((await kept()).tell).toEqual(before)
  // It has been looked up since, so the same wish counts now.
  await page.getByRole('checkbox', { name: 'Show “Method”' }).uncheck()
  await page.getByText('“Method” is not on the page.').waitFor(LONG)
  await expect.poll(() => told.count(), LONG).toBe(0)
  await fromElsewhere({ question: 'From elsewhere?' })
  await press(page, 'Undo')
  await told.first().waitFor(LONG)
  expect((await kept()).question).toBe('From elsewhere?')
  await page.getByRole('checkbox', { name: 'Show “Method”' }).check()
  await page.getByText('“Method” is on the page again.').waitFor(LONG)
  await press(page, 'Edit “Method”')
  const method = page.getByLabel('How the specimens were made and pulled')
  await expect.poll(() => page.getByLabel('What the study asks').inputValue(), LONG).toBe('From elsewhere?')
  await fromElsewhere({ method: 'Their words.' })
  await method.fill('My words.')
  await method.blur()
  await page.getByText('changed elsewhere, to “Their words.”').waitFor(LONG)
  expect(await method.inputValue()).toBe('My words.')
  expect((await kept()).method).toBe('Their words.')
  await press(page, 'Write mine over it')
  await expect.poll(async () => (await kept()).method, LONG).toBe('My words.')
  // The browser's own word for each answer that was refused.
  expect(complaints.splice(0)).toEqual(Array.from({ length: 3 }, () => expect.stringContaining('409')))
  await watched.close()
}, 240_000)

test('on a phone the button for the method opens the parts, though they were folded by hand', async () => {
  const { method } = good(await app.store.studies.get(app.demoId))
  good(await app.store.studies.update(app.demoId, { method: '' }))
  const { page, close } = await app.open(place, { width: 360, height: 740 })
  const parts = page.locator('details.answered', { hasText: 'The page, part by part' })
  const summary = parts.locator('summary').first()
  await summary.click()
  await page.locator('.tell-blocks').waitFor()
  await summary.click()
  await page.locator('.tell-blocks').waitFor({ state: 'detached' })
  await press(page, 'Write the method')
  await page.getByLabel('How the specimens were made and pulled').waitFor()
  good(await app.store.studies.update(app.demoId, { method }))
  await close()
}, 240_000)

test('in every look', async () => {
  await checkEveryLook(app, place, 'tell', async page => {
    await isShown(page)
    await page.getByRole('heading', { name: 'A figure', exact: true }).waitFor(LONG)
    await unfoldAnswered(page)
    await page.locator('img.tell-drawn').waitFor(LONG)
  })
}, 400_000)
