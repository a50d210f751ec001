import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { type BrowserContext, chromium, type Page } from 'playwright-core'
import { findBrowser } from '../../scripts/systemPackages.mjs'
import { CHROMIUM_ARGS } from './browser.ts'
import { builtApp } from './builtApp.ts'

/** The one HTML file, opened from disk in a browser with a profile of its own that outlives it. */
export interface PageBench {
  readonly context: BrowserContext
  readonly page: Page
  /** Process of the browser. */
  readonly pid: number
  /** Opens it anew with the same profile, after the browser was closed or killed. */
  again(): Promise<PageBench>
  /** Closes the browser; the profile stays for `again`. */
  close(): Promise<void>
  /** Closes it and throws the profile away. */
  stop(): Promise<void>
}

export interface BenchOptions {
  readonly width?: number
  readonly height?: number
  /** To be run in each page before its own scripts. */
  readonly script?: string
}

export async function pageBench(options: BenchOptions = {}): Promise<PageBench> {
  const profile = mkdtempSync(join(tmpdir(), 'tenterhook-profile-'))
  return opened(profile, options)
}

async function opened(profile: string, options: BenchOptions): Promise<PageBench> {
  const { width = 1280, height = 900, script } = options
  const executablePath = findBrowser()
  if (executablePath === null) throw new Error('No Chromium was found. `npm test` installs it or says how.')
  const context = await chromium.launchPersistentContext(profile, {
    executablePath,
    args: [...CHROMIUM_ARGS, `--tenterhook-test=${profile}`],
    viewport: { width, height },
    reducedMotion: 'reduce',
    acceptDownloads: true,
  })
  if (script !== undefined) await context.addInitScript(script)
  const page = context.pages()[0] ?? (await context.newPage())
  await page.goto(await pageAddress())
  return {
    context,
    page,
    pid: browserPid(profile),
    again: () => opened(profile, options),
    close: () => context.close(),
    async stop() {
      await context.close().catch(() => {})
      rmSync(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 })
    },
  }
}

export const pageAddress = async (): Promise<string> =>
  pathToFileURL(join(await builtApp('page'), 'page.html')).href

/** The process of the browser itself: the one with this profile that no other of them started. */
function browserPid(profile: string): number {
  for (const pid of readdirSync('/proc').filter(name => /^\d+$/.test(name))) {
    try {
      const words = readFileSync(`/proc/${pid}/cmdline`, 'utf8').split('\0')
      if (words.includes(`--tenterhook-test=${profile}`) && !words.some(word => word.startsWith('--type=')))
        return Number(pid)
    } catch {
      // It has ended meanwhile.
    }
  }
  throw new Error('the browser was not found among the processes')
}

/** As a newcomer would: a study with its variants. */
export async function newStudy(page: Page, name: string, variants: readonly string[]): Promise<void> {
  await page.getByRole('button', { name: 'New study' }).first().click()
  await page.getByLabel('Name').first().fill(name)
  await page.locator('.shelf-form textarea').fill(variants.join('\n'))
  await page.locator('.shelf-form button[type="submit"]').click()
  await page.getByLabel('The question of this study').waitFor()
}

export async function toPlace(page: Page, place: string): Promise<void> {
  await page.goto(page.url().replace(/[a-z]+$/, place))
  await page.locator(`.notebook[data-place="${place}"] main`).waitFor()
}

/** One more specimen of a variant, in the place Pull. */
export async function addSpecimen(page: Page, variant: string): Promise<void> {
  await page.getByText('Add a specimen').click()
  await page.locator('.pull-add').getByRole('button', { name: variant }).click()
  await page.locator('.pull-order li[data-now="true"]').waitFor()
}

/** Opens the line over the stub of a serial port, by the form of the place. */
export async function openPort(page: Page): Promise<void> {
  await page.getByLabel('Serial port of this computer').check()
  await page.getByRole('button', { name: 'Choose the port' }).click()
  await page.getByText('Chosen: USB 1a86:7523').waitFor()
  await page.getByRole('button', { name: 'Open the line' }).last().click()
}

/** A recording as the page keeps it, with how many samples are there. */
export interface KeptRecording {
  readonly id: string
  readonly name: string
  readonly sha256: string
  readonly samples: number
  readonly source: string
  readonly state: string
  readonly device: string
  readonly specimenId: string | null
  /** Of the line's first further column. */
  readonly firstOfChannel: number | null
  readonly lastOfChannel: number | null
  readonly samplesThere: number
}

/** Recordings in the storage of the page's browser, oldest first. */
export const keptIn = (page: Page): Promise<KeptRecording[]> =>
  page.evaluate<KeptRecording[]>(`(async () => {
    const asked = request => new Promise((good, bad) => {
      request.onsuccess = () => good(request.result)
      request.onerror = () => bad(request.error)
    })
    const db = await asked(indexedDB.open('tenterhook'))
    try {
      const change = db.transaction(['recordings', 'samples'])
      const entries = await asked(change.objectStore('recordings').getAll())
      const all = []
      for (const entry of entries.sort((a, b) => (a.addedAt < b.addedAt ? -1 : 1))) {
        const whole = await asked(change.objectStore('samples').get(entry.id))
        const [timeS, channel] = whole ? [whole.timeS, whole.channels[0]?.values] : await inChunks(entry.id)
        all.push({ ...entry, samplesThere: timeS.length, firstOfChannel: channel?.[0] ?? null, lastOfChannel: channel?.at(-1) ?? null })
      }
      return all
    } finally {
      db.close()
    }
    // A long recording stands in chunks: series 0 is the time, series 2 the first further column.
    async function inChunks(id) {
      const long = await asked(indexedDB.open('tenterhook-long'))
      const series = index =>
        asked(long.transaction('chunks').objectStore('chunks').getAll(IDBKeyRange.bound([id, index], [id, index, []])))
      try {
        return [(await series(0)).flatMap(chunk => [...chunk]), (await series(2)).flatMap(chunk => [...chunk])]
      } finally {
        long.close()
      }
    }
  })()`)

export async function waitForKept(page: Page, recordings: number, withinS = 20): Promise<KeptRecording[]> {
  for (let tries = 0; tries < 5 * withinS; tries++) {
    const kept = await keptIn(page)
    if (kept.length >= recordings) return kept
    await page.waitForTimeout(200)
  }
  throw new Error(`there are not ${recordings} recordings`)
}
