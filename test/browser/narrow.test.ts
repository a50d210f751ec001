import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, keepScreenshot, seriousFaults, startApp } from './app.ts'

/** On a phone what was answered is folded away: a place of the demo is no longer than three screens. */

const WINDOW = { width: 360, height: 800 }
const SCREENS = 3

let app: AppUnderTest
let readPlace = ''
beforeAll(async () => {
  app = await startApp({ demo: true })
  const stitched = (await app.store.specimens.list(app.demoId)).find(({ name }) => name === 'stitching-3')
  readPlace = `read/${stitched?.id}`
}, 240_000)
afterAll(() => app?.stop())

const heightOf = (page: Page) => page.evaluate<number>('document.documentElement.scrollHeight')

const PLACES: readonly (readonly [string, () => string, string])[] = [
  ['plan', () => 'plan', '.plan-question'],
  ['read', () => readPlace, '.read-result .numeral'],
  ['compare', () => 'compare', '.compare-overlay canvas, .curve canvas'],
  ['tell', () => 'tell', '.tell-frame'],
]

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
