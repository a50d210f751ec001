import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { good } from '../store/stores.ts'
import { type AppUnderTest, demoSpecimenId, keepScreenshot, seriousFaults, startApp } from './app.ts'

/** On a phone what was answered is folded away: a place of the demo is no longer than three screens. */

const WINDOW = { width: 360, height: 800 }
const SCREENS = 3

let app: AppUnderTest
let readPlace = ''
beforeAll(async () => {
  app = await startApp({ demo: true })
  readPlace = `read/${await demoSpecimenId(app, 'stitching-3')}`
}, 240_000)
afterAll(() => app?.stop())

const heightOf = (page: Page) => page.evaluate<number>('document.documentElement.scrollHeight')

const PLACES: readonly (readonly [string, () => string, string])[] = [
  ['plan', () => 'plan', '.plan-question'],
  ['read', () => readPlace, '.read-result .numeral'],
  ['compare', () => 'compare', '.compare-overlay canvas, .curve canvas'],
  ['tell', () => 'tell', '.tell-frame'],
]

/** Presses the next step, folds by hand what it opened, and presses again: the keyboard is in the field both times. */
async function pressTwice(page: Page, button: string, field: string, part: string): Promise<void> {
  const press = page.locator('.next-line').getByRole('button', { name: button })
  await press.click()
  await expect.poll(() => page.locator(`${field}:focus`).count()).toBe(1)
  await page.locator(`${part} > summary`).click()
  await page.locator(field).waitFor({ state: 'detached' })
  await press.click()
  await expect.poll(() => page.locator(`${field}:focus`).count()).toBe(1)
  const box = await page.locator(field).boundingBox()
  expect(box!.y).toBeGreaterThanOrEqual(0)
  expect(box!.y + box!.height).toBeLessThanOrEqual(WINDOW.height)
}

test('the press of a next step opens the folded part and goes to its field', async () => {
  const study = good(await app.store.studies.create({ name: 'Cords', question: 'Which holds?' }))
  const plan = await app.open(`/study/${study.id}/plan`, WINDOW)
  await pressTwice(plan.page, 'Name one', '#plan-new-variant', '#plan-variants')
  await plan.close()

  const [specimen] = await app.store.specimens.list(app.demoId)
  await app.store.specimens.update(specimen!.id, { failureMode: null })
  const read = await app.open(`/study/${app.demoId}/read/${specimen!.id}`, WINDOW)
  await pressTwice(read.page, 'Choose the way it failed', '#read-mode', '#read-facts')
  await read.close()
  await app.store.specimens.update(specimen!.id, { failureMode: specimen!.failureMode })

  const demo = good(await app.store.studies.get(app.demoId))
  await app.store.studies.update(app.demoId, { method: '' })
  const tell = await app.open(`/study/${app.demoId}/tell`, WINDOW)
  await pressTwice(tell.page, 'Write the method', '#tell-method', '#tell-parts')
  await tell.close()
  await app.store.studies.update(app.demoId, { method: demo.method })
})

test.each(PLACES)('%s is at most three screens', async (name, place, ready) => {
  const { page, close } = await app.open(`/study/${app.demoId}/${place()}`, WINDOW)
  await page.locator(ready).first().waitFor()
  await page.locator('.next-line').getByText(/\w/).first().waitFor()
  await keepScreenshot(page, `narrow-${name}`)
  expect(await heightOf(page)).toBeLessThanOrEqual(SCREENS * WINDOW.height)
  expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(WINDOW.width)
  expect(await seriousFaults(page)).toEqual([])
  await close()
})
