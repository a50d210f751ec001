import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type RunningServer, startServer } from '../../src/server/index.ts'
import { openStore, type Store, storePlace } from '../../src/store/index.ts'
import { good } from '../store/stores.ts'
import { openPage } from './app.ts'
import { startBrowser } from './browser.ts'
import { builtApp } from './builtApp.ts'

/** On a busy machine. */
const SOON = { timeout: 20_000 }

/** The server goes while the page is open, and comes back at the same address. */

let browser: Browser
let folder = ''
let webFolder = ''
let store: Store
let server: RunningServer
const faults: unknown[] = []

const start = async (port: number): Promise<RunningServer> =>
  good(
    await startServer({
      store,
      port,
      lan: false,
      webFolder,
      onTrouble: problems => faults.push(...problems),
      onFault: (_, error) => faults.push(error),
    }),
  )

beforeAll(async () => {
  webFolder = await builtApp()
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-offline-'))
  store = await openStore(good(storePlace(join(folder, 'store'), {})))
  server = await start(0)
  browser = await startBrowser()
}, 240_000)
afterAll(async () => {
  await browser?.close()
  await server?.stop()
  await store?.close()
  await rm(folder, { recursive: true, force: true })
})

test('says that the server is away, keeps what is on the screen and what is typed, and goes on when it is back', async () => {
  const study = good(await store.studies.create({ name: 'Cords', question: 'Which cord?' }))
  const { page, strays } = await openPage(browser, `${server.address}#/study/${study.id}/plan`)
  const question = page.getByRole('textbox', { name: 'The question' })
  await question.waitFor()
  const port = Number(new URL(server.address).port)
  await server.stop()

  await question.fill('Which cord holds best?')
  await page.keyboard.press('Enter')
  await page.getByText('The server does not answer. What you see').waitFor()
  expect(await question.inputValue()).toBe('Which cord holds best?')
  // Not even a reload would lose it.
  expect(await page.evaluate('Object.values(sessionStorage).join()')).toContain('Which cord holds best?')

  server = await start(port)
  await page.getByText('The server is back.').waitFor({ timeout: 30_000 })
  await page.getByText('The server does not answer. What you see').waitFor({ state: 'detached' })
  expect(await question.inputValue()).toBe('Which cord holds best?')
  expect(good(await store.studies.get(study.id)).question).toBe('Which cord?')
  await question.focus()
  await question.blur()
  await expect
    .poll(async () => good(await store.studies.get(study.id)).question, SOON)
    .toBe('Which cord holds best?')
  expect(strays).toEqual([])
  expect(faults).toEqual([])
  await page.context().close()
}, 180_000)
