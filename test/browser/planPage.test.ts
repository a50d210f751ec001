import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openPage } from './app.ts'
import { startBrowser } from './browser.ts'
import { builtApp } from './builtApp.ts'

/** Plan and Rig in the app as one HTML file, opened from disk: no server, readings are typed. */

let browser: Browser
let address = ''
beforeAll(async () => {
  address = pathToFileURL(join(await builtApp('page'), 'page.html')).href
  browser = await startBrowser()
}, 240_000)
afterAll(() => browser?.close())

test('a study is planned and its rig calibrated, and both are there after a reload', async () => {
  const { page, close } = await openPage(browser, address)
  await page.getByRole('button', { name: 'New study' }).first().click()
  await page.getByLabel('Name').first().fill('Knots')
  await page.locator('.shelf-form textarea').fill('reef\ngranny')
  await page.locator('.shelf-form button[type="submit"]').click()
  await page.getByLabel('The question of this study').fill('Which knot holds best?')
  await page.keyboard.press('Enter')
  await page.getByRole('button', { name: /^Keep \d+ of each/ }).click()
  await page.getByRole('button', { name: 'Write in' }).click()
  await page.getByText('The plan stands').waitFor()
  const number = await page.locator('.plan-number').textContent()
  expect(await page.locator('.plan-slot[data-state="planned"]').count()).toBe(2 * Number(number))
  await page.getByRole('link', { name: 'Go to Rig' }).click()
  await page.getByLabel('What do you call it?').fill('nut rig')
  await page.keyboard.press('Enter')
  for (const [name, kg] of [
    ['jug', '1'],
    ['brick', '2'],
  ] as const) {
    await page.getByLabel('Its name').fill(name)
    await page.getByLabel('Mass in kg').fill(kg)
    await page.getByLabel(/Error of that scale/).fill('1')
    await page.keyboard.press('Enter')
    await page.locator('.rig-masses', { hasText: name }).waitFor()
  }
  await page.getByLabel('The rig reads in').first().selectOption('kgf')
  await page.getByRole('button', { name: 'Begin' }).click()
  for (const [i, reading] of ['0.00', '1.01', '2.02', '3.03', '2.02', '1.01', '0.00'].entries()) {
    await page.getByLabel('Reading, in kgf').fill(reading)
    await page.keyboard.press('Enter')
    await page.locator('.rig tbody tr').nth(i).waitFor()
  }
  await page.getByRole('button', { name: 'Keep it', exact: true }).click()
  await page.getByText('The calibration is in force.').waitFor()
  await page.reload()
  await page.locator('.next-line').getByText('Hang the check mass of 1.000 kg (jug)').waitFor()
  await page.getByRole('button', { name: /^Line/ }).click()
  await page.getByRole('button', { name: 'Open the line' }).waitFor()
  await close()
}, 240_000)
