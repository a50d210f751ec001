import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, checkEveryLook, startApp } from './app.ts'
import { builtApp } from './builtApp.ts'

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp()
}, 240_000)
afterAll(() => app?.stop())

test('an empty shelf says what all this is for, and how to begin', async () => {
  await checkEveryLook(app, '/', 'shelf-empty', page => page.getByText('Drop a log of a pull').waitFor())
}, 180_000)

test('the first load, scripts and styles of the page, stays under 250 kB gzipped', async () => {
  const folder = await builtApp()
  const { page, close } = await app.open()
  await page.getByText('Drop a log of a pull').waitFor()
  // The engine's thread loads beside the page, and the page does not wait for it.
  const files = (await page.evaluate(
    `performance.getEntriesByType('resource').map(entry => new URL(entry.name).pathname)
      .filter(path => /\\.(js|css)$/.test(path) && !/Worker-/.test(path))`,
  )) as string[]
  expect(files.length).toBeGreaterThan(2)
  const bytes = files.reduce((sum, path) => sum + gzipSync(readFileSync(join(folder, path))).length, 0)
  expect(bytes).toBeGreaterThan(50_000)
  expect(bytes).toBeLessThan(250_000)
  await close()
})

test('the invented study is made and opened from the empty shelf', async () => {
  const { page, close } = await app.open()
  await page.getByRole('button', { name: 'Open the invented study' }).click()
  await expect.poll(() => page.url(), { timeout: 50_000 }).toMatch(/#\/study\/[^/]+\/compare$/)
  const [study] = await app.store.studies.list()
  expect(await app.store.readings.latestOfStudy(study?.id ?? '')).toHaveLength(15)
  await close()
})
