import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, CDPSession, Page } from 'playwright-core'
import type { Recording } from '../../src/core/recording.ts'
import { startServer } from '../../src/server/index.ts'
import { openStore, type Store, storePlace } from '../../src/store/index.ts'
import { startBrowser } from '../../test/browser/browser.ts'
import { builtApp } from '../../test/browser/builtApp.ts'

/** A store of its own, the real server with the app as built, and a browser: what a benchmark of a screen needs. */
export interface BrowserBench {
  readonly store: Store
  /** `http://127.0.0.1:…/`; addresses inside the app go behind a `#`. */
  readonly address: string
  readonly browser: Browser
  stop(): Promise<void>
}

export async function startBench(): Promise<BrowserBench> {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-bench-'))
  const store = await openStore(good(storePlace(join(folder, 'store'), {})))
  const server = good(
    await startServer({
      store,
      port: 0,
      lan: false,
      webFolder: await builtApp(),
      onTrouble: problems => console.error(problems),
      onFault: (_, error) => console.error(error),
    }),
  )
  const browser = await startBrowser()
  return {
    store,
    address: server.address,
    browser,
    async stop() {
      await browser.close()
      await server.stop()
      await store.close()
      await rm(folder, { recursive: true, force: true })
    },
  }
}

export const good = <T>(outcome: { ok: true; value: T } | { ok: false; problems: readonly unknown[] }): T => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems))
  return outcome.value
}

/** A recording of pulls as if it had been imported. */
export const madeUp = (name: string, timeS: Float64Array, forceN: Float64Array): Recording => ({
  name,
  sha256: '',
  timeS,
  forceN,
  forceUnit: 'N',
  timeFrom: 'column',
  segments: [{ from: 0, to: timeS.length, began: 'start', name, sha256: '', shiftS: 0 }],
  channels: [],
  notes: [],
  assumptions: [],
  understood: 'made up',
})

/** Puts a recording on a new specimen. Gives the specimen's id. */
export async function keep(
  store: Store,
  studyId: string,
  recording: Recording,
  variantId: string | null = null,
): Promise<string> {
  const specimen = good(
    await store.specimens.create(studyId, { name: recording.name, status: 'pulled', variantId }),
  )
  const log = new TextEncoder().encode(`${recording.name}, made up\n`)
  good(await store.recordings.save({ recording, log, source: 'log', specimenId: specimen.id }))
  return specimen.id
}

export const quantile = (values: readonly number[], share: number): number => {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN
}

export function tell(what: string, ms: readonly number[], limitMs: number): void {
  const [half, p95, most] = [quantile(ms, 0.5), quantile(ms, 0.95), Math.max(...ms)]
  console.log(
    `${what.padEnd(46)} median ${half.toFixed(1)} ms, p95 ${p95.toFixed(1)} ms, most ${most.toFixed(1)} ms` +
      ` (target p95 under ${limitMs.toFixed(1)} ms: ${p95 < limitMs ? 'kept' : 'missed'}; n = ${ms.length})`,
  )
}

export const FRAME_MS = 1000 / 60
const FRAMES = 300

/** Lets `scriptOfFrames` count the script of a page's own thread, and the frames in which there was any. */
export async function countScript(page: Page): Promise<CDPSession> {
  await page.addInitScript(`{
    const asked = requestAnimationFrame
    globalThis.framesWithWork = new Set()
    globalThis.requestAnimationFrame = work => asked(at => {
      framesWithWork.add(at)
      work(at)
    })
  }`)
  const session = await page.context().newCDPSession(page)
  await session.send('Performance.enable', { timeDomain: 'threadTicks' })
  return session
}

/** Seconds of script of the page's thread so far. */
async function scriptS(session: CDPSession): Promise<number> {
  const { metrics } = await session.send('Performance.getMetrics')
  return metrics.find(({ name }) => name === 'ScriptDuration')?.value ?? Number.NaN
}

/** Waits for a frame to be over. Gives how many had work in them since the last call; this one counts. */
const nextFrame = (page: Page): Promise<number> =>
  page.evaluate(`new Promise(done => requestAnimationFrame(() => setTimeout(() => {
    const frames = framesWithWork.size
    framesWithWork.clear()
    done(frames)
  })))`)

/**
 * Script time of each frame, in ms, while the pointer goes to and fro over a curve; `y` in shares of its height. Asking
 * takes a while: where the page worked in several frames meanwhile, each has its share.
 */
export async function scriptOfFrames(
  page: Page,
  session: CDPSession,
  { drags, y }: { readonly drags: boolean; readonly y: (frame: number) => number },
): Promise<number[]> {
  const box = await page.locator('.curve-pad').boundingBox()
  if (!box) throw new Error('no curve on the screen')
  await page.mouse.move(box.x + box.width / 2, box.y + box.height * y(0))
  if (drags) await page.mouse.down()
  // What asking itself costs is no work of the curve.
  const idle: number[] = []
  for (let i = 0; i < 20; i++) {
    const before = await scriptS(session)
    await nextFrame(page)
    idle.push(1000 * ((await scriptS(session)) - before))
  }
  const own = quantile(idle, 0.5)
  const frames: number[] = []
  for (let i = 0; i < FRAMES; i++) {
    const before = await scriptS(session)
    await page.mouse.move(box.x + box.width * (0.5 + 0.45 * Math.sin(i / 10)), box.y + box.height * y(i))
    const worked = await nextFrame(page)
    frames.push(Math.max(0, 1000 * ((await scriptS(session)) - before) - own) / worked)
  }
  if (drags) await page.mouse.up()
  return frames
}
