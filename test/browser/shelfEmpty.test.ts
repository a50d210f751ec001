import { afterAll, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, checkEveryLook, startApp } from './app.ts'

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp()
}, 240_000)
afterAll(() => app?.stop())

test('an empty shelf says what all this is for, and how to begin', async () => {
  await checkEveryLook(app, '/', 'shelf-empty', page => page.getByText('Drop a log of a pull').waitFor())
}, 180_000)

test('the invented study is made and opened from the empty shelf', async () => {
  const { page, close } = await app.open()
  await page.getByRole('button', { name: 'Open the invented study' }).click()
  await expect.poll(() => page.url(), { timeout: 30_000 }).toMatch(/#\/study\/[^/]+\/compare$/)
  const [study] = await app.store.studies.list()
  expect(await app.store.readings.latestOfStudy(study?.id ?? '')).toHaveLength(15)
  await close()
})
