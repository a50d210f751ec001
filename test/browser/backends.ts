import { execFile } from 'node:child_process'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import type { BrowserContext, Page } from 'playwright-core'
import type { Problem } from '../../src/core/problem.ts'
import { startServer } from '../../src/server/index.ts'
import { openStore, storePlace } from '../../src/store/index.ts'
import type { Backend } from '../../src/web/data/backend.ts'
import { good } from '../store/stores.ts'
import { startBrowser } from './browser.ts'

/** Both homes of studies, the server's store and the browser's own storage, in a real browser. */
export interface BothHomes {
  /** A backend as the app has it; what it rejects with is a `Refused`. */
  backend(home: 'page' | 'server'): Backend
  readonly page: Page
  readonly context: BrowserContext
  readonly address: string
  stop(): Promise<void>
}

/** What a backend rejected with, as it came out of the browser. */
export class Refused extends Error {
  readonly kind: string
  readonly problems: readonly Problem[]

  constructor(kind: string, problems: readonly Problem[]) {
    super(`${kind}: ${problems.map(({ where, what }) => `${where}: ${what}`).join(' ')}`)
    this.kind = kind
    this.problems = problems
  }
}

const root = fileURLToPath(new URL('../../', import.meta.url))

export async function startBothHomes(): Promise<BothHomes> {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-homes-'))
  const webFolder = join(folder, 'web')
  await promisify(execFile)(
    process.execPath,
    [
      ...[join(root, 'node_modules/vite/bin/vite.js'), 'build', join(root, 'test/web/data/homes')],
      ...['--outDir', webFolder, '--emptyOutDir', '--base', './', '--logLevel', 'warn'],
    ],
    // A folder without a config of its own: the project's builds the command line.
    { cwd: join(root, 'test/web/data/homes'), env: { ...process.env, NODE_ENV: 'production' } },
  )
  const store = await openStore(good(storePlace(join(folder, 'store'), {})))
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
  const context = await browser.newContext()
  const page = await context.newPage()
  await page.goto(server.address)
  await page.waitForFunction('globalThis.callBackend !== undefined')
  return {
    backend: home => backendOf(page, home),
    page,
    context,
    address: server.address,
    async stop() {
      await browser.close()
      await server.stop()
      await store.close()
      await rm(folder, { recursive: true, force: true })
      if (faults.length > 0) throw new Error(`the server met faults: ${JSON.stringify(faults)}`)
    },
  }
}

interface Answered {
  readonly ok: boolean
  readonly value: unknown
  readonly kind: string
  readonly problems: readonly Problem[]
}

/** Every method of the backend as a call into the page. */
export const backendOf = (page: Page, home: 'page' | 'server'): Backend => {
  const at = (path: readonly string[]): unknown =>
    new Proxy(() => {}, {
      get: (_, name) => (typeof name === 'string' ? at([...path, name]) : undefined),
      async apply(_, __, given: unknown[]) {
        const answer = (await page.evaluate(
          ([where, method, args]) => {
            const { callBackend } = globalThis as unknown as {
              callBackend(home: string, path: string[], given: unknown[]): Promise<unknown>
            }
            return callBackend(where as string, method as string[], args as unknown[])
          },
          [home, path, given] as const,
        )) as Answered
        if (!answer.ok) throw new Refused(answer.kind, answer.problems)
        return answer.value
      },
    })
  return at([]) as Backend
}
