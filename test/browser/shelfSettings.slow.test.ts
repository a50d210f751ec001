import { afterAll, beforeAll, expect, test } from 'vitest'
import { ENGINE_VERSION } from '../../src/core/version.ts'
import { type AppUnderTest, checkEveryLook, startApp } from './app.ts'

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp()
}, 240_000)
afterAll(() => app?.stop())

const kept = async () => (await app.store.settings.all()).app as Record<string, unknown>

test('units are added, put in order and removed by keyboard, and kept', async () => {
  const { page, close } = await app.open('/settings')
  const add = page.getByLabel('Add a unit')
  await add.selectOption('kgf')
  await expect.poll(async () => (await kept())?.units).toEqual(['kgf'])
  await add.selectOption('N')
  await expect.poll(async () => (await kept())?.units).toEqual(['kgf', 'N'])
  await page.getByRole('button', { name: 'Earlier N' }).focus()
  await page.keyboard.press('Enter')
  await expect.poll(async () => (await kept()).units).toEqual(['N', 'kgf'])
  await page.getByText('68.2 ± 1.5 N · shown first').waitFor()
  await page.getByRole('button', { name: 'Remove kgf' }).focus()
  await page.keyboard.press('Enter')
  await expect.poll(async () => (await kept()).units).toEqual(['N'])
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect.poll(async () => (await kept()).units).toEqual(['N', 'kgf'])
  await close()
})

test('decimal mark, paper, operator and familiar weights count at once and outlast a reload', async () => {
  const { page, close } = await app.open('/settings')
  await page.getByLabel('comma, 68,2').check()
  await page.getByText('68,2 ± 1,5 N').waitFor()
  await page.getByLabel('dark', { exact: true }).check()
  await expect.poll(() => page.evaluate('document.documentElement.dataset.theme')).toBe('dark')
  await page.getByLabel('Operator').fill('Kim')
  await page.keyboard.press('Enter')
  await page.getByLabel('One of them').fill('house brick')
  await page.getByLabel('Mass in kg').fill('zwei')
  await page.getByText('The mass is a number of kilograms').waitFor()
  await page.getByLabel('Mass in kg').fill('2,3')
  await page.getByRole('button', { name: 'Add it' }).click()
  await expect.poll(kept).toMatchObject({
    decimal: 'comma',
    theme: 'dark',
    operator: 'Kim',
    equivalents: [{ name: 'house brick', plural: '', massKg: 2.3 }],
  })
  await page.reload()
  await page.getByText('2,3 kg').waitFor()
  expect(await page.evaluate('document.documentElement.dataset.theme')).toBe('dark')
  await page.getByLabel('as the system has it').check()
  await expect.poll(async () => (await kept()).theme).toBe('system')
  await close()
})

test('the settings say version and store, in every look', async () => {
  await checkEveryLook(app, '/settings', 'settings', async page => {
    await page.getByText(ENGINE_VERSION, { exact: true }).waitFor()
    await page.getByText(app.store.place).waitFor()
  })
}, 180_000)
