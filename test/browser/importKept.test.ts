import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, startApp } from './app.ts'
import { dropFiles } from './dropFiles.ts'

/** On a busy machine. */
const SOON = { timeout: 20_000 }

/** Logs that lie on the table, with what was said of them, outlive a reload and a window that is closed. */

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp()
}, 240_000)
afterAll(() => app?.stop())

const log = (peakN: number) =>
  Array.from({ length: 200 }, (_, i) => {
    const forceN = i < 30 || i > 170 ? 0.02 * Math.sin(i) : ((i - 30) / 140) * peakN
    return `${(i / 20).toFixed(2)},${forceN.toFixed(3)}`
  }).join('\n')
const files = ['paste-1', 'paste-2', 'glue-1'].map((name, i) => ({
  name: `${name}.csv`,
  text: `time s,force N\n${log(60 + 5 * i)}\n`,
}))

const logNames = (page: Page) => page.locator('.import-log h4').allTextContents()
const all = ['glue-1.csv', 'paste-1.csv', 'paste-2.csv']

test('a reload finds the logs, their corrections, their specimens and the name of the study', async () => {
  const { page, complaints, strays, close } = await app.open('/')
  await page.locator('.next-line').waitFor()
  await dropFiles(page, files)
  await page.getByRole('button', { name: 'Name it' }).click(SOON)
  await page.keyboard.type('Set aside')
  await page.getByLabel('Specimen').nth(1).fill('the first')
  await page.getByLabel('Specimen').nth(1).press('Enter')
  await page.getByRole('button', { name: 'Leave out paste-2.csv' }).click()
  await page.getByText('These files stay on the table in this browser').waitFor()
  // The last change may be on its way to the disk.
  await page.waitForTimeout(500)
  await page.reload()
  await page.getByText('3 logs lay here when the page was left').waitFor(SOON)
  expect((await logNames(page)).sort()).toEqual(all)
  expect(await page.getByLabel('Name of the new study').inputValue()).toBe('Set aside')
  expect(await page.getByLabel('Specimen').nth(1).inputValue()).toBe('the first')
  await page.getByRole('button', { name: 'Take in again paste-2.csv' }).waitFor()

  // Another window has a table of its own.
  const second = await page.context().newPage()
  await second.goto(`${app.address}#/import`)
  await second.locator('.next-line').waitFor()
  await second.waitForTimeout(500)
  expect(await logNames(second)).toEqual([])
  await second.close()

  // A window that is opened once this one is gone takes its table over, and says so on the shelf.
  const third = await page.context().newPage()
  await page.close()
  await third.goto(app.address)
  await third.getByText('3 dropped logs are not taken in yet.').waitFor(SOON)
  await third.getByRole('link', { name: 'Go on with it' }).click()
  await third.getByRole('button', { name: 'Take in 2 logs' }).click(SOON)
  await third.getByText('2 logs taken in and read').waitFor(SOON)
  const [study] = await app.store.studies.list()
  expect(study?.name).toBe('Set aside')
  expect((await app.store.specimens.list(study?.id ?? '')).map(({ name }) => name).sort()).toContain(
    'the first',
  )

  // What was left out is still there; put away it is gone for good.
  await third.reload()
  await third.getByText('1 log lay here when the page was left').waitFor(SOON)
  await third.getByRole('button', { name: 'Put these files away' }).click()
  await third.waitForTimeout(500)
  await third.reload()
  await third.locator('.next-line').waitFor()
  await third.waitForTimeout(500)
  expect(await logNames(third)).toEqual([])
  expect([...complaints, ...strays]).toEqual([])
  await close()
}, 180_000)
