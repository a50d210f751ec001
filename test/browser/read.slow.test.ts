import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { png } from '../logs/picture/pictures.ts'
import { good } from '../store/stores.ts'
import { type AppUnderTest, checkEveryLook, startApp } from './app.ts'

let app: AppUnderTest
let ids: Map<string, string>
beforeAll(async () => {
  app = await startApp({ demo: true })
  ids = new Map((await app.store.specimens.list(app.demoId)).map(({ id, name }) => [name, id]))
}, 240_000)
afterAll(() => app?.stop())

const placeOf = (name: string) => `/study/${app.demoId}/read/${ids.get(name)}`
const isRead = (page: Page) => page.locator('.read-result .numeral').waitFor()
/** The name of whatever has the focus. */
const focused = (page: Page) =>
  page.evaluate<string>(
    '(e => e.getAttribute("aria-label") ?? e.labels?.[0]?.textContent ?? e.textContent ?? "")(document.activeElement)',
  )

/** Goes on by the Tab key until something of this name has the focus. */
async function tabTo(page: Page, name: string | RegExp): Promise<void> {
  for (let i = 0; i < 150; i++) {
    await page.keyboard.press('Tab')
    const at = await focused(page)
    if (typeof name === 'string' ? at === name : name.test(at)) return
  }
  throw new Error(`Tab never came to ${name}`)
}

test('the screen is sound in light, dark and on a phone', async () => {
  await checkEveryLook(app, placeOf('hot-melt-2'), 'read', async page => {
    await isRead(page)
    // On a phone the peak's ledger is folded until the figure is pressed.
    if (!(await page.getByText('Show the samples').first().isVisible()))
      await page.locator('.read-result .numeral button').first().click()
    await page.getByText('Show the samples').first().click()
    await page.locator('.read-samples').waitFor()
  })
}, 240_000)

test('writing an adjustment is sound in every look too', async () => {
  await checkEveryLook(app, placeOf('stitching-3'), 'read-adjusting', async page => {
    await isRead(page)
    await page.getByRole('button', { name: 'Joined into one' }).click()
    const elements = page.getByRole('button', { name: 'Number of elements', exact: true })
    if (!(await elements.isVisible())) await page.getByRole('heading', { name: 'Adjustments' }).click()
    await elements.click()
    await page.getByLabel('Elements', { exact: true }).fill('7')
    await page.locator('.read-changes').waitFor()
  })
}, 240_000)

test('every status is shown as what it is', async () => {
  const { page, close } = await app.open(placeOf('stitching-5'))
  await isRead(page)
  const said = page.locator('[data-status]')
  const [reading] = await app.store.readings.history({ specimenId: ids.get('stitching-5') ?? '' })
  expect(await said.getAttribute('data-status')).toBe(reading?.reading.results.peakForce.status)
  await close()
})

test('the curve of a specimen lies over those of its variant, in every look', async () => {
  await checkEveryLook(app, placeOf('hot-melt-2'), 'read-kind', async page => {
    await isRead(page)
    await page.getByText('Beside the others of its variant').click()
    const kind = page.locator('details', { hasText: 'Beside the others of its variant' })
    await kind.getByText('Thick: “hot-melt-2”. Thin: 4 others of its variant').waitFor()
    await kind.locator('canvas').first().waitFor()
    await kind.getByText(/^Curves: /).waitFor({ state: 'hidden' })
  })
}, 240_000)

test('the ledger goes down to the samples as they were recorded', async () => {
  const { page, close } = await app.open(placeOf('hot-melt-1'))
  await isRead(page)
  await page.getByText('Show the samples').first().click()
  const cells = page.locator('.read-samples tr[data-here="true"] td')
  await cells.first().waitFor()
  const [time, raw] = await cells.allInnerTexts()
  const [entry] = (await app.store.recordings.list({ specimenId: ids.get('hot-melt-1') ?? '' })).items
  const { timeS, forceN } = good(await app.store.recordings.load(entry?.id ?? ''))
  const at = timeS.findIndex(t => t.toFixed(4) === time)
  expect(at).toBeGreaterThan(0)
  expect(Number(raw?.replace('−', '-'))).toBeCloseTo((forceN[at] ?? 0) / 9.80665, 3)
  await close()
})

test('by keys alone: to the next specimen, along the curve, an adjustment written, kept and struck out', async () => {
  const { page, close } = await app.open(placeOf('wheat-paste-3'))
  await isRead(page)
  await page.keyboard.press('.')
  await page.getByRole('heading', { level: 1, name: 'wheat-paste-4' }).waitFor()
  await page.keyboard.press(',')
  await page.getByRole('heading', { level: 1, name: 'wheat-paste-3' }).waitFor()
  await page.keyboard.press(']')
  await page.getByRole('heading', { level: 1, name: 'wheat-paste-4' }).waitFor()
  await isRead(page)

  await tabTo(page, /^Force curve/)
  const seen = () => page.getByRole('slider').getAttribute('aria-valuetext')
  const whole = await seen()
  await page.keyboard.press('+')
  const closer = await seen()
  expect(closer).not.toBe(whole)
  await page.keyboard.press('ArrowRight')
  expect(await seen()).not.toBe(closer)
  await page.keyboard.press('0')
  expect(await seen()).toBe(whole)

  await tabTo(page, 'Sensitivity to drops')
  await page.keyboard.press('Enter')
  expect(await focused(page)).toBe('Sensitivity')
  await page.keyboard.press('Control+A')
  await page.keyboard.type('2')
  await tabTo(page, 'small drops were missed')
  await page.keyboard.press('Enter')
  await tabTo(page, 'Who')
  await page.keyboard.type('Ann')
  await page.keyboard.press('Enter')
  await page.locator('.foot-line').getByText('Kept:').waitFor()
  await tabTo(page, /^Strike out/)
  await page.keyboard.press('Enter')
  await page.locator('.read-adjustments s').waitFor()
  await close()
})

test('what is known of a specimen is kept: mode, size, conditions, a note, left out with its reason', async () => {
  const { page, close } = await app.open(placeOf('wheat-paste-5'))
  await isRead(page)
  const specimen = async () => good(await app.store.specimens.get(ids.get('wheat-paste-5') ?? ''))
  await page.getByLabel('Another way, new in this study').fill('the bag tore beside it')
  await page.getByRole('button', { name: 'Add', exact: true }).click()
  await expect.poll(async () => (await specimen()).failureMode).toBe('the bag tore beside it')
  await page.getByLabel('Width, mm').fill('12,5')
  // Left at once, before the first is answered.
  await page.getByLabel('Batch').fill('second pot')
  await page.getByLabel('Temperature, °C').fill('far too warm')
  await page.keyboard.press('Tab')
  await page.getByText('This is not a number that can stand here.').waitFor()
  await expect.poll(async () => (await specimen()).widthMm).toBe(12.5)
  await expect.poll(async () => (await specimen()).batch).toBe('second pot')
  await page.getByLabel('A new note').fill('paste still soft at the edge')
  await page.getByRole('button', { name: 'Add the note' }).click()
  await page.locator('.read-note').getByText('paste still soft').waitFor()
  await page.getByRole('button', { name: /^Remove the note/ }).click()
  await page.getByText('No notes yet.').waitFor()
  await page.locator('.foot-line').getByRole('button', { name: 'Undo' }).click()
  await page.locator('.read-note').getByText('paste still soft').waitFor()
  await page.getByRole('button', { name: 'Leave it out of the figures' }).click()
  await page.getByRole('button', { name: 'Leave it out', exact: true }).click()
  await page.getByText('Say why, so that the report can.').waitFor()
  await page.getByLabel('Why it is left out').fill('paste had not set')
  await page.getByRole('button', { name: 'Leave it out', exact: true }).click()
  await page.getByText('Left out of the figures: paste had not set').waitFor()
  await page.reload()
  await page.getByText('Left out of the figures: paste had not set').waitFor()
  expect(await page.getByLabel('Width, mm').inputValue()).toBe('12.5')
  await close()
})

test('a picture of the failure is kept, removed, and brought back', async () => {
  const { page, close } = await app.open(placeOf('wheat-paste-1'))
  await isRead(page)
  await page
    .locator('.read-file input')
    .setInputFiles({ name: 'ends.png', mimeType: 'image/png', buffer: png() })
  const picture = page.locator('.read-photos img')
  await picture.waitFor()
  await expect
    .poll(() => page.evaluate<number>('document.querySelector(".read-photos img").naturalWidth'))
    .toBe(1)
  await page.getByRole('button', { name: /^Remove the picture/ }).click()
  await page.getByText('No picture yet.').waitFor()
  await page.locator('.foot-line').getByRole('button', { name: 'Undo' }).click()
  await picture.waitFor()
  await close()
})

test('hostile names and notes are text and nothing else', async () => {
  const id = ids.get('hot-melt-5') ?? ''
  const hostile = `<img src=x onerror="document.title='run'"><script>document.title='run'</script>`
  good(await app.store.specimens.update(id, { name: hostile, note: hostile, batch: hostile }))
  good(await app.store.notes.add({ kind: 'specimen', id }, hostile, hostile))
  const { page, close } = await app.open(placeOf('hot-melt-5'))
  await page.getByRole('heading', { level: 1, name: hostile }).waitFor()
  await page.locator('.read-note').getByText(hostile).first().waitFor()
  expect(await page.title()).not.toBe('run')
  expect(await page.locator('main img, main script').count()).toBe(0)
  await close()
})
