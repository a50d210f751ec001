import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, openPage, startApp } from './app.ts'
import { builtApp } from './builtApp.ts'
import { dropFiles } from './dropFiles.ts'

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp()
}, 240_000)
afterAll(() => app?.stop())

/** On a busy machine. */
const SOON = { timeout: 20_000 }

/** A pull of 12 s. `day`: its stamps tell one. */
const log = (topN: number, day: string | null = null): string =>
  `${day ? 'at' : 'time_s'},force_N\n${Array.from({ length: 121 }, (_, i) => {
    const force = i > 20 && i < 80 ? (topN * (i - 20)) / 59 : 0.01 * (i % 3)
    const at = day ? new Date(Date.parse(day) + 100 * i).toISOString() : (i / 10).toFixed(1)
    return `${at},${force.toFixed(3)}`
  }).join('\n')}\n`
const LAST_WRITTEN = Date.parse('2026-05-04T10:00:12Z')
const logs = [
  { name: 'paste-1.csv', text: log(40), lastModified: LAST_WRITTEN },
  { name: 'paste-2.csv', text: log(42), lastModified: LAST_WRITTEN + 86_400_000 },
  { name: 'paste-3.csv', text: log(44), lastModified: LAST_WRITTEN },
  { name: 'paste-4.csv', text: log(46, '2026-03-02T08:00:00Z'), lastModified: LAST_WRITTEN },
]
const card = (page: Page, name: string) => page.locator('.import-log').filter({ hasText: name })
const suggested = (page: Page, name: string) => card(page, name).getByRole('checkbox', { name: /^Suggested/ })

/** Drops the logs, takes what is suggested of the first and the second, and takes them in. */
async function tookIn(page: Page, study: string): Promise<void> {
  await dropFiles(page, logs)
  await card(page, 'paste-1.csv').getByText('Suggested: pulled on 2026-05-04 10:00 (UTC)').waitFor(SOON)
  await card(page, 'paste-2.csv').getByText('Suggested: pulled on 2026-05-05 10:00 (UTC)').waitFor(SOON)
  await card(page, 'paste-4.csv').locator('.import-sketch').waitFor(SOON)
  // The log tells it itself, so that nothing is suggested.
  expect(await suggested(page, 'paste-4.csv').count()).toBe(0)
  for (const name of ['paste-1.csv', 'paste-2.csv', 'paste-3.csv'])
    expect(await suggested(page, name).isChecked()).toBe(false)
  await suggested(page, 'paste-1.csv').check()
  await card(page, 'paste-1.csv').getByRole('button', { name: 'Those of 2 other logs too' }).click()
  expect(await suggested(page, 'paste-3.csv').isChecked()).toBe(true)
  await suggested(page, 'paste-3.csv').uncheck()
  await page.getByLabel('Name of the new study').fill(study)
  await page.getByRole('button', { name: 'Take in 4 logs' }).click(SOON)
  await page.getByText(/^4 logs taken in and read/).waitFor({ timeout: 60_000 })
}

test('a file’s time of change is suggested for the day of a pull, and kept only where it was taken', async () => {
  const watched = await app.open()
  await tookIn(watched.page, 'By files')
  const study = (await app.store.studies.byName('By files'))!
  const { items } = await app.store.recordings.list({ studyId: study.id })
  expect(Object.fromEntries(items.map(({ name, startedAt }) => [name, startedAt]))).toEqual({
    'paste-1.csv': '2026-05-04T10:00:00.000Z',
    'paste-2.csv': '2026-05-05T10:00:00.000Z',
    'paste-3.csv': null,
    'paste-4.csv': '2026-03-02T08:00:00.000Z',
  })
  await watched.close()
}, 120_000)

test('so it is in the one HTML file', async () => {
  const address = pathToFileURL(join(await builtApp('page'), 'page.html')).href
  const { page } = await openPage(app.browser, address)
  await tookIn(page, 'By files')
  const started = await page.evaluate<Record<string, string | null>>(`(async () => {
    const names = (await indexedDB.databases()).map(({ name }) => name)
    for (const name of names) {
      const db = await new Promise((done, fail) => {
        const asked = indexedDB.open(name)
        asked.onsuccess = () => done(asked.result)
        asked.onerror = () => fail(asked.error)
      })
      if (!db.objectStoreNames.contains('recordings')) continue
      const entries = await new Promise(done => {
        db.transaction('recordings').objectStore('recordings').getAll().onsuccess = e => done(e.target.result)
      })
      return Object.fromEntries(entries.map(({ name, startedAt }) => [name, startedAt]))
    }
  })()`)
  expect(started).toEqual({
    'paste-1.csv': '2026-05-04T10:00:00.000Z',
    'paste-2.csv': '2026-05-05T10:00:00.000Z',
    'paste-3.csv': null,
    'paste-4.csv': '2026-03-02T08:00:00.000Z',
  })
  await page.close()
}, 120_000)
