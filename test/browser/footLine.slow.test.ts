import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import {
  type AppUnderTest,
  demoSpecimenId,
  faultsOf,
  keepScreenshot,
  startApp,
  unfoldAnswered,
} from './app.ts'

/** The line with Undo: it takes no curve, event or button from sight, and is gone with its place and by itself. */

let app: AppUnderTest
let specimenId = ''
beforeAll(async () => {
  app = await startApp({ demo: true })
  specimenId = await demoSpecimenId(app, 'stitching-3')
}, 240_000)
afterAll(() => app?.stop())

/** Marks what lies whole within the part of the window that stays, and above where the line comes to stand. Runs in the page. */
const MARK_SEEN = `(() => {
  const tabs = document.querySelector('.tabs').getBoundingClientRect();
  const foot = tabs.width > tabs.height ? tabs.top : innerHeight;
  for (const element of document.querySelectorAll('main .curve-box, main svg, main li, main tr, main button, main select, main input')) {
    const { top, bottom, height } = element.getBoundingClientRect();
    if (height > 0 && top >= 0 && bottom <= foot) element.dataset.seen = '';
  }
})()`

/** Of these, what the line lies over now. Runs in the page. */
const TAKEN = `(() => {
  const line = document.querySelector('.foot-line').getBoundingClientRect();
  return [...document.querySelectorAll('[data-seen]')].filter(element => {
    const { top, bottom } = element.getBoundingClientRect();
    return bottom > line.top + 0.5 && top < line.bottom - 0.5;
  }).map(element => element.outerHTML.slice(0, 120));
})()`

const line = (page: Page) => page.locator('.foot-line')
const study = (place: string) => `/study/${app.demoId}/${place}`

interface Change {
  readonly place: () => string
  readonly ready: string
  readonly before: (page: Page) => Promise<unknown>
  readonly act: (page: Page) => Promise<unknown>
}

const CHANGES: Readonly<Record<string, Change>> = {
  read: {
    place: () => study(`read/${specimenId}`),
    ready: '.read-result .numeral',
    before: page => page.locator('#read-mode').scrollIntoViewIfNeeded(),
    act: page => page.locator('#read-mode').selectOption('bag tore'),
  },
  tell: {
    place: () => study('tell'),
    ready: '.tell-frame',
    before: page => page.getByRole('checkbox', { name: 'Show “Notes and photos”' }).scrollIntoViewIfNeeded(),
    act: page => page.getByRole('checkbox', { name: 'Show “Notes and photos”' }).click(),
  },
  plan: {
    place: () => study('plan'),
    ready: '.plan-question',
    before: page => page.locator('#plan-question').focus(),
    act: async page => {
      await page.locator('#plan-question').fill(`Which holds best at ${page.viewportSize()?.width}?`)
      await page.keyboard.press('Tab')
    },
  },
}

const SIZES = [
  { width: 1280, height: 800 },
  { width: 390, height: 844 },
] as const

test.each(SIZES.flatMap(size => Object.keys(CHANGES).map(name => ({ ...size, name }))))(
  'in $name at $width × $height it takes nothing from sight',
  async ({ name, ...size }) => {
    const { place, ready, before, act } = CHANGES[name]!
    const { page, close } = await app.open(place(), size)
    await page.locator(ready).first().waitFor()
    await unfoldAnswered(page)
    await before(page)
    await page.evaluate(MARK_SEEN)
    expect(await page.locator('[data-seen]').count()).toBeGreaterThan(3)
    await act(page)
    await line(page).getByRole('button', { name: 'Undo' }).waitFor()
    await page.screenshot()
    expect(await page.evaluate(TAKEN)).toEqual([])
    await keepScreenshot(page, `foot-line-${name}-${size.width}`)
    expect(await faultsOf(page)).toEqual([])

    // The page ends above it, and what is gone to by key comes to stand clear of it.
    await page.evaluate('scrollTo(0, document.documentElement.scrollHeight)')
    const lineTop = (await line(page).boundingBox())!.y
    const end = await page.evaluate<number>(
      'Math.max(...[...document.querySelectorAll("main *")].map(one => one.getBoundingClientRect().bottom))',
    )
    expect(end).toBeLessThanOrEqual(lineTop + 0.5)

    // It belongs to its place.
    await page.locator('.tabs a').nth(1).click()
    await line(page).waitFor({ state: 'detached' })
    await page.goBack()
    await page.locator(ready).first().waitFor()
    expect(await line(page).count()).toBe(0)
    await close()
  },
  120_000,
)

test('it withdraws by itself, but not from under the keyboard; Undo takes back', async () => {
  const { page, close } = await app.open(study('tell'))
  const box = page.getByRole('checkbox', { name: 'Show “How to cite”' })
  await box.waitFor()
  const was = await box.isChecked()
  await box.click()
  const undo = line(page).getByRole('button', { name: 'Undo' })
  await undo.focus()
  await page.waitForTimeout(16_000)
  expect(await undo.count()).toBe(1)
  await box.focus()
  await line(page).waitFor({ state: 'detached', timeout: 20_000 })
  expect(await box.isChecked()).toBe(!was)
  await box.click()
  await undo.click()
  await expect.poll(() => box.isChecked()).toBe(!was)
  await close()
}, 120_000)
