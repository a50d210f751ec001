import { mkdirSync, readFileSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { expect } from 'vitest'
import { keepDemoStudy } from '../../src/server/demoStudy.ts'
import { type RunningServer, startServer } from '../../src/server/index.ts'
import { openStore, type Store, storePlace } from '../../src/store/index.ts'
import { good } from '../store/stores.ts'
import { startBrowser } from './browser.ts'
import { builtApp } from './builtApp.ts'

/** The real server over a store of its own, with the app as built from the sources, and a browser. */
export interface AppUnderTest {
  /** `http://127.0.0.1:…/`; addresses inside the app go behind a `#`. */
  readonly address: string
  readonly store: Store
  /** The id of the demo's study; `''` where none was asked for. */
  readonly demoId: string
  readonly server: RunningServer
  readonly browser: Browser
  /** Faults that the server met; `stop` fails where there are any. */
  readonly faults: unknown[]
  /** The page at a place of the app, `/study/…/read`, watched. */
  open(place?: string, look?: Partial<Look>): Promise<WatchedPage>
  stop(): Promise<void>
}

export interface Look {
  readonly width: number
  readonly height: number
  readonly dark: boolean
}

export interface WatchedPage {
  readonly page: Page
  /** What the console complained of, errors and warnings, and faults of the page. */
  readonly complaints: string[]
  /** Requests that went anywhere but to the server under test. */
  readonly strays: string[]
  /** Fails where the console complained or a request left the machine; then closes the page. */
  close(): Promise<void>
}

/** Starts all of it. `demo` puts the invented study of the demo into the store. */
export async function startApp({ demo = false } = {}): Promise<AppUnderTest> {
  const webFolder = await builtApp()
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-app-'))
  const store = await openStore(good(storePlace(join(folder, 'store'), {})))
  const demoId = demo ? good(await keepDemoStudy(store)).id : ''
  const faults: unknown[] = []
  const server = good(
    await startServer({
      store,
      port: 0,
      lan: false,
      webFolder,
      onTrouble: problems => faults.push(...problems),
      onFault: (_, error) => faults.push(error),
    }),
  )
  const browser = await startBrowser()
  return {
    address: server.address,
    store,
    demoId,
    server,
    browser,
    faults,
    open: (place = '/', look = {}) => openPage(browser, `${server.address}#${place}`, look),
    async stop() {
      await browser.close()
      await server.stop()
      await store.close()
      await rm(folder, { recursive: true, force: true })
      expect(faults).toEqual([])
    },
  }
}

/** Id of a specimen of the demo. */
export async function demoSpecimenId({ store, demoId }: AppUnderTest, name: string): Promise<string> {
  const found = (await store.specimens.list(demoId)).find(specimen => specimen.name === name)
  if (!found) throw new Error(`the demo has no specimen ${name}`)
  return found.id
}

/** An address in a context of its own, so that nothing is shared with another page. */
export async function openPage(
  browser: Browser,
  address: string,
  { width = 1280, height = 800, dark = false }: Partial<Look> = {},
): Promise<WatchedPage> {
  const context = await browser.newContext({
    viewport: { width, height },
    colorScheme: dark ? 'dark' : 'light',
    reducedMotion: 'reduce',
    hasTouch: width < 640,
  })
  const page = await context.newPage()
  const watched = watch(context, page, new URL(address).origin)
  await page.goto(address)
  return watched
}

/** Watches a page that is already there, for example a second tab. */
export function watch(context: BrowserContext, page: Page, origin: string): WatchedPage {
  const complaints: string[] = []
  const strays: string[] = []
  context.on('request', request => {
    const url = request.url()
    if (
      !/^(data|blob):/.test(url) &&
      !(origin === 'null' ? url.startsWith('file:') : url.startsWith(`${origin}/`))
    )
      strays.push(url)
  })
  page.on('console', message => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text())
  })
  page.on('pageerror', error => complaints.push(String(error)))
  return {
    page,
    complaints,
    strays,
    async close() {
      await context.close()
      expect([...complaints, ...strays.map(url => `a request went to ${url}`)].join('\n')).toBe('')
    },
  }
}

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

interface Violation {
  readonly id: string
  readonly impact: string
  readonly nodes: readonly { readonly html: string; readonly failureSummary: string }[]
}

async function violations(page: Page): Promise<readonly Violation[]> {
  // Evaluated, not added as a script: the page's own policy stays in force.
  await page.evaluate(`if (!globalThis.axe) { ${axeSource} }`)
  return page.evaluate<Violation[]>('axe.run().then(({ violations }) => violations)')
}

const told = (found: readonly Violation[]): string[] =>
  found.flatMap(({ id, nodes }) => nodes.map(node => `${id}: ${node.html} — ${node.failureSummary}`))

/** All that an accessibility check finds, each with where. Nothing is switched off. */
export const faultsOf = async (page: Page): Promise<string[]> => told(await violations(page))

/** What an accessibility check finds serious or critical, each with where. */
export const seriousFaults = async (page: Page): Promise<string[]> =>
  told((await violations(page)).filter(({ impact }) => impact === 'serious' || impact === 'critical'))

const screenshots = fileURLToPath(new URL('./screenshots/', import.meta.url))

/** Keeps what a page looks like in test/browser/screenshots, which git ignores, for people to look at. */
export async function keepScreenshot(page: Page, name: string): Promise<void> {
  mkdirSync(screenshots, { recursive: true })
  await page.evaluate('document.fonts.ready.then(() => true)')
  await page.screenshot({ path: join(screenshots, `${name}.png`), fullPage: true })
}

/** Opens what a narrow window folds into one line; in a wide one there is nothing to open. */
export async function unfoldAnswered(page: Page): Promise<void> {
  const folded = page.locator('details.answered:not([open]) > summary')
  for (let left = await folded.count(); left > 0; left--) await folded.first().click()
}

const LOOKS = {
  light: {},
  dark: { dark: true },
  phone: { width: 360, height: 740 },
  'phone-dark': { width: 360, height: 740, dark: true },
} as const

/**
 * Looks at a place in light, dark and on a phone: `ready` waits for what must be there (or brings the screen about),
 * then nothing serious may be found, nothing may run out of the page sideways, and a screenshot is kept as `name-….png`.
 */
export async function checkEveryLook(
  app: Pick<AppUnderTest, 'open'>,
  place: string,
  name: string,
  ready: (page: Page) => Promise<unknown>,
): Promise<void> {
  for (const [look, given] of Object.entries(LOOKS)) {
    const watched = await app.open(place, given)
    const { page } = watched
    await ready(page)
    await keepScreenshot(page, `${name}-${look}`)
    expect(await seriousFaults(page), `${name} in ${look}`).toEqual([])
    const [wide, view] = (await page.evaluate(
      '[document.documentElement.scrollWidth, document.documentElement.clientWidth]',
    )) as [number, number]
    expect(wide, `${name} in ${look}: width of the page`).toBeLessThanOrEqual(view)
    await watched.close()
  }
}
