import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type PtyPair, ptyPair } from '../capture/node/ptyPair.ts'
import { type AppUnderTest, keepScreenshot, startApp } from './app.ts'
import { atMoment, peakOf } from './pullBench.ts'

let app: AppUnderTest
let pty: PtyPair
beforeAll(async () => {
  app = await startApp()
  pty = await ptyPair()
}, 240_000)
afterAll(async () => {
  await app?.stop()
  await pty?.end()
})

/** The converter counts so much for a newton, from so much with an empty hook. */
const COUNTS_PER_N = 1_000
const EMPTY = 50_012
/** Standard gravity where the test's bench stands, near enough to its latitude: what is not so is in the doubt. */
const GRAVITY = 9.812

let atMs = 0
/** A converter on the serial line: counts, 50 a second, by its own clock, restless by a count or two. */
async function says(forS: number, forceN: (t: number) => number): Promise<void> {
  for (let from = 0; from < forS; from += 1) {
    let text = ''
    for (let t = from; t < Math.min(forS, from + 1) - 1e-9; t += 0.02, atMs += 20)
      text += `${atMs},${Math.round(EMPTY + COUNTS_PER_N * forceN(t)) + ((atMs / 20) % 3) - 1}\n`
    await pty.say(text)
  }
}

const next = (page: Page) => page.locator('.next-line')
const press = (page: Page, name: string | RegExp) => next(page).getByRole('button', { name }).click()

async function plan(page: Page): Promise<void> {
  await page.getByRole('status').getByText('Write down the question').waitFor()
  await press(page, 'Write it')
  await page.keyboard.type('Does tape or glue hold the handle better?')
  await page.keyboard.press('Enter')
  await page.getByText('The question is changed.').waitFor()
  await press(page, 'Name one')
  for (const name of ['tape', 'glue']) {
    await page.keyboard.type(name)
    await page.keyboard.press('Enter')
    await page.getByText(`“${name}” is added.`).waitFor()
  }
  await press(page, /^Keep/)
  await press(page, 'Write in')
  await page.getByText('The plan stands').waitFor()
  await keepScreenshot(page, 'story-plan')
}

async function nameMass(page: Page, name: string, kg: string): Promise<void> {
  await page.getByLabel('Its name').fill(name)
  await page.getByLabel('Mass in kg').fill(kg)
  await page.getByLabel(/Error of that scale/).fill('1')
  await page
    .getByRole('form', { name: 'A new thing of known mass' })
    .getByRole('button', { name: 'Add it' })
    .click()
  await page.locator('.rig-masses', { hasText: name }).waitFor()
}

/** Hangs what the next line asks for, and takes it once it stands still, until all is read. */
async function hangAll(page: Page, massesKg: Readonly<Record<string, number>>): Promise<void> {
  for (let taken = 0; taken < 20; taken++) {
    if (await next(page).getByRole('button', { name: 'Keep it' }).isVisible()) return
    const asked = (await next(page).textContent()) ?? ''
    const kg = Object.entries(massesKg).reduce(
      (sum, [name, mass]) => sum + (asked.includes(name) ? mass : 0),
      0,
    )
    await says(4, () => kg * GRAVITY)
    const rows = page.locator('#rig-calibrate tbody tr')
    const had = await rows.count()
    await next(page).getByRole('button', { name: 'Take the reading' }).click()
    await rows.nth(had).waitFor()
  }
  throw new Error('the calibration asks for ever more loads')
}

async function rig(page: Page): Promise<void> {
  await press(page, 'Name it')
  await page.keyboard.type('nut rig')
  await page.keyboard.press('Enter')
  await next(page).getByText('Name two things').waitFor()
  await nameMass(page, 'jug', '1.043')
  await nameMass(page, 'brick', '2.306')
  await next(page).getByRole('button', { name: 'Calibrate' }).click()
  const part = page.locator('#rig-calibrate')
  await part.getByText('Listen to the line instead of typing').click()
  await part.getByLabel('Serial port', { exact: true }).check()
  await part.getByLabel('Port, as the system names it').fill(pty.port)
  await part.getByRole('button', { name: 'Open the line' }).click()
  await expect.poll(() => app.server.desk.line().open?.kind).toBe('serial')
  await pty.say('time_ms,counts\n')
  await says(4, () => 0)
  await page.getByText('stands still', { exact: true }).first().waitFor()
  await page.getByRole('button', { name: 'Begin' }).click()
  await hangAll(page, { jug: 1.043, brick: 2.306 })
  await keepScreenshot(page, 'story-rig')
  await press(page, 'Keep it')
  await page.getByText('The calibration is in force.').waitFor()
}

/** The check that the place asks for before the day's work, over the same line. */
async function check(page: Page): Promise<void> {
  await press(page, 'Check it')
  await expect.poll(() => app.server.desk.line().rig?.name).toBe('nut rig')
  await says(4, () => 0)
  await press(page, 'Take the reading')
  await next(page).getByText('Hang 1.043 kg (jug)').waitFor()
  await says(4, () => 1.043 * GRAVITY)
  await press(page, 'Take the reading')
  await page.getByText('The rig reads as it should.').first().waitFor()
  await says(3, () => 0)
  // What is kept from before a tug goes by when it came: the check is long over at a bench.
  await page.waitForTimeout(6_000)
}

async function pullOne(page: Page, peakN: number): Promise<void> {
  await says(2, () => 0)
  await atMoment(page, 'ready')
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  await says(1, () => 0)
  await says(peakN / 10, t => 10 * t)
  await says(3, () => 0)
  await atMoment(page, 'let-go')
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  await expect
    .poll(() => peakOf(page.locator('.pull-reading .numeral')), { timeout: 10_000 })
    .toBeCloseTo(peakN, 0)
  await page.keyboard.press('Space')
}

test('from the question to the verdict: plan, calibrate with two household masses, check, pull three, compare', async () => {
  const { page, close } = await app.open('/', { height: 900 })
  await page.getByRole('button', { name: 'New study …' }).click()
  await page.getByLabel('Name', { exact: true }).fill('Tape or glue')
  await page.getByRole('button', { name: 'Make the study' }).click()
  await plan(page)
  await next(page).getByRole('link', { name: 'Go to Rig' }).click()
  await rig(page)
  await check(page)
  await next(page).getByRole('link', { name: 'Go to Pull' }).click()
  await atMoment(page, 'ready')
  // The line is that of the rig already, and the first of the plan's order is next.
  const [study] = await app.store.studies.list()
  const { order } = study!.plan as { order: string[] }
  await expect.poll(() => page.locator('.pull h1').textContent()).toBe(order[0])
  await page.evaluate('document.activeElement.blur()')
  for (const [i, peakN] of [38, 52, 41].entries()) {
    await expect.poll(() => page.locator('.pull h1').textContent(), { timeout: 10_000 }).toBe(order[i])
    await pullOne(page, peakN)
    await atMoment(page, 'ready')
  }
  await keepScreenshot(page, 'story-pull')
  await page.getByRole('link', { name: /^Compare/ }).click()
  await page.locator('.answer-headline').waitFor()
  expect((await page.locator('.answer-headline').textContent()) ?? '').toMatch(/[.]$/)
  await expect.poll(() => page.locator('.compare-dot').count(), { timeout: 10_000 }).toBe(3)
  await keepScreenshot(page, 'story-compare')
  expect(app.server.desk.recording).toBe(false)
  await close()
}, 400_000)
