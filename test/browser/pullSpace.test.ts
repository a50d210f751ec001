import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, faultsOf, keepScreenshot, startApp } from './app.ts'
import { atMoment, type HandRig, handRig, openLine, openPull, peakOf, studyToPull } from './pullBench.ts'

/** What the screen is given to while it is pulled and after: the curve, then what it came to. */

let app: AppUnderTest
let rig: HandRig
beforeAll(async () => {
  app = await startApp()
}, 240_000)
afterEach(async () => {
  await app.server.desk.close()
  await rig?.close()
})
afterAll(() => app?.stop())

const boxOf = async (page: Page, what: string) => {
  const box = await page.locator(what).first().boundingBox()
  if (box === null) throw new Error(`${what} is not on the page`)
  return box
}

/** Of the height of the window, what the curve takes of it, all of it in sight and above the tabs. */
async function shareOfCurve(page: Page): Promise<number> {
  const size = page.viewportSize()
  const box = await boxOf(page, '.pull .curve-box')
  const tabs = await boxOf(page, '.tabs')
  const foot = tabs.width > tabs.height ? tabs.y : (size?.height ?? 0)
  expect(box.y).toBeGreaterThanOrEqual(0)
  expect(box.y + box.height).toBeLessThanOrEqual(foot)
  return box.height / (size?.height ?? 1)
}

test.each([
  { width: 1280, height: 800, dark: true },
  { width: 390, height: 844, dark: false },
])(
  'at $width × $height the curve has half of the screen from the first tug to the break',
  async look => {
    const study = await studyToPull(app, [`wide-${look.width}`, 'next'])
    rig = await handRig()
    const { page, close } = await openPull(app, study.place, look)
    const kept = (name: string) => keepScreenshot(page, `pull-${look.width}-${name}`)
    await openLine(page, rig)
    await page.evaluate('document.activeElement.blur(); scrollTo(0, 0)')
    if (!look.dark) await page.getByRole('button', { name: 'Paper' }).click()
    await page.evaluate('document.activeElement.blur(); scrollTo(0, 0)')
    await kept('ready')
    expect(await faultsOf(page)).toEqual([])
    await page.keyboard.press('Space')
    await atMoment(page, 'armed')
    await kept('armed')
    expect(await faultsOf(page)).toEqual([])
    rig.rest(1)
    rig.up(30)
    await atMoment(page, 'pulling')
    await expect.poll(() => page.locator('.curve-rule').count()).toBeGreaterThan(4)
    expect(await shareOfCurve(page)).toBeGreaterThanOrEqual(0.5)
    await kept('pulling')
    expect(await faultsOf(page)).toEqual([])
    rig.up(42)
    rig.breaks()
    await atMoment(page, 'let-go')
    const result = page.locator('.pull-reading .numeral')
    await result.waitFor()
    expect(await peakOf(result)).toBeCloseTo(42, 0)
    expect(await shareOfCurve(page)).toBeGreaterThanOrEqual(0.5)
    // What it came to stands where the live force was, and larger than that stands now.
    const sizes = await page.evaluate<number[]>(
      '[".pull-reading .numeral", ".pull-numeral"].map(what => parseFloat(getComputedStyle(document.querySelector(what)).fontSize))',
    )
    expect(sizes[0]).toBeGreaterThan(2 * (sizes[1] ?? 0) - 1)
    await kept('let-go')
    expect(await faultsOf(page)).toEqual([])
    await page.keyboard.press('Space')
    await atMoment(page, 'ended')
    await page.locator('.pull-modes').waitFor()
    await kept('ended')
    expect(await faultsOf(page)).toEqual([])

    await page.getByLabel('Or in your own words').fill('tore at the fold')
    await page.keyboard.press('Enter')
    await page.locator('.pull-modes [aria-pressed="true"]', { hasText: 'tore at the fold' }).waitFor()
    await page.locator('.foot-slot').getByRole('button', { name: 'Undo' }).waitFor()
    expect(await page.locator('.foot-dock .foot-line').count()).toBe(0)
    await kept('mode')
    expect((await app.store.studies.list()).find(({ id }) => id === study.id)?.failureModes).toContain(
      'tore at the fold',
    )
    await page.keyboard.press('Space')
    await atMoment(page, 'ready')
    await close()
  },
  120_000,
)
