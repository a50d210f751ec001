import { afterAll, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, startApp } from './app.ts'
import { dropFiles } from './dropFiles.ts'

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp()
}, 240_000)
afterAll(() => app?.stop())

/** On a busy machine. */
const SOON = { timeout: 20_000 }

const rows = (top: number): string =>
  Array.from({ length: 120 }, (_, i) => {
    const force = (i > 20 && i < 80 ? (top * (i - 20)) / 59 : 0) + 0.01 * (i % 3)
    return `${(i / 10).toFixed(1)},${force.toFixed(3)}`
  }).join('\n')
const table = (title: string, top: number): string => `${title}\ntime_s,load\n${rows(top)}\n`
const two = table('Specimen 1', 30).replace('\n5.0,', '\nERR 5.0 ') + table('\nSpecimen 2', 50)

test('a file of several tables is one specimen or several, its unread lines are told, each choice redraws', async () => {
  const { page, complaints, close } = await app.open()
  await dropFiles(page, [{ name: 'run.csv', text: two }])
  const whole = page.locator('.import-log').filter({ hasText: 'run.csv' })
  await whole.getByText('1 line with numbers was not read').click(SOON)
  await whole.getByText('ERR 5.0').first().waitFor(SOON)
  await whole.getByText('line 53', { exact: true }).waitFor()
  await whole.getByText('This file holds 2 tables').waitFor(SOON)
  expect(await whole.getByRole('radio', { name: 'One specimen in 2 pieces' }).isChecked()).toBe(true)
  expect(await whole.locator('.import-tables .import-sketch').count()).toBe(2)
  await whole.getByText('lines 1 to 122').waitFor()
  await whole.getByRole('radio', { name: '2 specimens' }).click()

  const names = page.locator('.import-log h4')
  await names.filter({ hasText: 'run, Specimen 2.csv' }).waitFor(SOON)
  expect(await names.allTextContents()).toEqual(['run, Specimen 1.csv', 'run, Specimen 2.csv'])
  const second = page.locator('.import-log').filter({ hasText: 'run, Specimen 2.csv' })
  const drawn = () => second.locator('.import-sketch-line').getAttribute('d')
  await second.locator('.import-sketch').waitFor(SOON)
  const before = await drawn()
  await second.getByText('What was understood, and corrections').click()
  // What cannot be read for a moment shows fields of its own.
  const said = second.locator('.import-corrections')
  await said.getByLabel('Force', { exact: true }).selectOption('1')
  await said.getByLabel('Time', { exact: true }).selectOption('2')
  await expect.poll(drawn, SOON).not.toBe(before)
  await said.getByRole('button', { name: 'As understood' }).click()
  await expect.poll(drawn, SOON).toBe(before)
  // A sign that the log contradicts is told, and its cure is beside it; nothing is drawn of it.
  await said.getByLabel('A pull counts').selectOption('negative')
  await second.getByRole('alert').getByText('tension').first().waitFor(SOON)
  await second.locator('.import-sketch').waitFor({ state: 'detached' })
  await said.getByRole('button', { name: 'As understood' }).click()
  await expect.poll(drawn, SOON).toBe(before)

  await second.getByRole('button', { name: 'One specimen in several pieces' }).click()
  await names.filter({ hasText: /^run\.csv$/ }).waitFor(SOON)
  expect(await names.count()).toBe(1)
  expect(complaints).toEqual([])
  await close()
}, 120_000)
