import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, demoSpecimenId, faultsOf, keepScreenshot, startApp } from './app.ts'
import { looksFaults } from './looks.ts'

/** Every place of the demo, in light and dark, on a screen, on a phone and on paper. Pull has tests of its own. */

let app: AppUnderTest
let specimenId = ''
beforeAll(async () => {
  app = await startApp({ demo: true })
  specimenId = await demoSpecimenId(app, 'stitching-3')
}, 240_000)
afterAll(() => app?.stop())

const LOOKS = {
  light: { width: 1280, height: 800 },
  dark: { width: 1280, height: 800, dark: true },
  phone: { width: 390, height: 844 },
  'phone-dark': { width: 390, height: 844, dark: true },
} as const

const study = (place: string) => () => `/study/${app.demoId}/${place}`
const PLACES: readonly (readonly [string, () => string, (page: Page) => Promise<unknown>])[] = [
  ['shelf', () => '/', page => page.locator('.spine-verdict', { hasNotText: 'being counted' }).waitFor()],
  ['plan', study('plan'), page => page.locator('.plan-question').waitFor()],
  ['rig', study('rig'), page => page.locator('.rig h2').first().waitFor()],
  ['pull', study('pull'), page => page.locator('.pull-line').waitFor()],
  [
    'read',
    () => `/study/${app.demoId}/read/${specimenId}`,
    page => page.locator('.read-result .numeral').waitFor(),
  ],
  ['compare', study('compare'), page => page.locator('.compare-overlay, .curve').first().waitFor()],
  ['tell', study('tell'), page => page.locator('.tell-frame').waitFor()],
  ['settings', () => '/settings', page => page.locator('.settings-about').waitFor()],
  ['import', () => '/import', page => page.locator('main').waitFor()],
]

test.each(PLACES)(
  '%s: an accessibility check finds nothing, and all of it can be read',
  async (name, address, ready) => {
    for (const [look, given] of Object.entries(LOOKS)) {
      const { page, close } = await app.open(address(), given)
      await ready(page)
      await page.waitForLoadState('networkidle')
      await page.getByText('Counting …').waitFor({ state: 'detached' })
      await keepScreenshot(page, `place-${name}-${look}`)
      expect(await faultsOf(page), `${name} in ${look}`).toEqual([])
      expect(await looksFaults(page), `${name} in ${look}`).toEqual([])
      if (look === 'light') {
        await page.emulateMedia({ media: 'print' })
        await keepScreenshot(page, `place-${name}-print`)
        expect(await looksFaults(page), `${name} in print`).toEqual([])
        expect(await page.locator('.tabs:visible, .next-line:visible, .foot-line:visible').count()).toBe(0)
      }
      await close()
    }
  },
)

test('the rules see what they are for', async () => {
  const { page, close } = await app.open('/settings')
  await page.locator('.settings-about').waitFor()
  expect(await looksFaults(page)).toEqual([])
  await page.evaluate(`document.querySelector('main').insertAdjacentHTML('beforeend', \`
    <p id="cut">one long line of words that has no room</p>
    <svg id="labels" width="200" height="40"><text x="5" y="20">first</text><text x="12" y="22">second</text></svg>
    <span id="wide">far out</span><button id="low">low</button>\`)`)
  await page.evaluate(
    `Object.assign(document.querySelector('#cut').style, { width: '40px', overflow: 'hidden', whiteSpace: 'nowrap' })`,
  )
  await page.evaluate(
    `Object.assign(document.querySelector('#wide').style, { position: 'absolute', left: '1270px' })`,
  )
  const found = (await looksFaults(page)).join('\n')
  for (const what of [
    'cut off: one long line',
    'over each other: first | second',
    'beyond the window: far out',
  ])
    expect(found).toContain(what)
  await close()
})
