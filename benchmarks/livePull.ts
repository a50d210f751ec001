import { once } from 'node:events'
import { mkdtemp, rm } from 'node:fs/promises'
import { type AddressInfo, createServer, type Socket } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import type { CDPSession, Page } from 'playwright-core'
import { startServer } from '../src/server/index.ts'
import { openStore, storePlace } from '../src/store/index.ts'
import { startBrowser } from '../test/browser/browser.ts'
import { builtApp } from '../test/browser/builtApp.ts'
import {
  forgetSeen,
  framesOn,
  laterMs,
  nowMs,
  type Seen,
  seenOn,
  WATCH_PIXELS,
} from '../test/browser/livePixels.ts'

/**
 * The place Pull in a real browser, over a network line on this machine that says 80, then 1,000 samples a second, with a
 * second screen beside it. A sample is on the screen when the frame after the one that drew it begins.
 *   line to pixel      from the device's writing of a sample to that (target: p99 under 50 ms)
 *   message to pixel   from its arrival in the page to that
 *   second screen      from that to the same on the second screen (target: 200 ms); counted from two seconds after
 *                      its page was open on, as opening a page takes a core of this machine for a while
 *   script a frame     of the page's own thread, by the browser's count of its CPU time
 *   heap               of the page after a collection, and the memory of this process, which is the server and the
 *                      device, a few seconds after the start and at the end of each of six parts
 * Run: `npm run bench livePull`; BENCH_SECONDS is how long each rate is watched (30; 1800 for half an hour),
 * BENCH_RATES which ("80,1000").
 */
const SECONDS = Number(process.env.BENCH_SECONDS ?? 30)
const RATES_HZ = (process.env.BENCH_RATES ?? '80,1000').split(',').map(Number)
const PARTS = 6
const TURN_MS = 10
const LIMIT_MS = 50
const SECOND_LIMIT_MS = 200
/** A collection that the benchmark asks for holds up what comes in that moment, and so does the opening of a page. */
const SETTLE_MS = 500
const OPEN_SETTLE_MS = 2_000
/** How long the second screen is watched beside the first. */
const SECOND_S = 15

const good = <T>(outcome: { ok: true; value: T } | { ok: false; problems: readonly unknown[] }): T => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems))
  return outcome.value
}

async function metric(session: CDPSession, name: string): Promise<number> {
  const { metrics } = await session.send('Performance.getMetrics')
  return metrics.find(one => one.name === name)?.value ?? Number.NaN
}

async function heapMb(session: CDPSession): Promise<number> {
  await session.send('HeapProfiler.collectGarbage')
  return (await metric(session, 'JSHeapUsedSize')) / 1024 / 1024
}

const processMb = (): number => process.memoryUsage.rss() / 1024 / 1024

const row = (values: readonly number[]): string => values.map(value => value.toFixed(1)).join(' ')

const quantile = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN

interface Device {
  readonly port: number
  /** When it wrote each sample; milliseconds since 1970. */
  readonly saidMs: Float64Array
  close(): Promise<void>
}

/** A device that says `time_ms,force_N` and the number of the sample, a few lines each turn, as its clock goes. */
async function device(rateHz: number): Promise<Device> {
  const sockets = new Set<Socket>()
  const beganMs = performance.now()
  // Room for all from the start, so that what grows in this process is not the notes of the benchmark.
  const saidMs = new Float64Array((SECONDS + SECOND_S + 300) * rateHz).fill(Number.NaN)
  let said = 0
  const server = createServer(socket => {
    sockets.add(socket)
    socket.on('error', () => sockets.delete(socket))
    socket.write('time_ms,force_N,temperature_C\n')
  })
  const timer = setInterval(() => {
    const due = Math.floor(((performance.now() - beganMs) * rateHz) / 1_000)
    let text = ''
    for (; said < due; said++) {
      saidMs[said] = nowMs()
      const t = said / rateHz
      const force = t < 4 ? 0 : 40 + 30 * Math.sin(t / 3)
      text += `${((said * 1_000) / rateHz).toFixed(2)},${(force + 0.01 * (said % 3)).toFixed(2)},${said}\n`
    }
    for (const socket of sockets) if (text !== '') socket.write(text)
  }, TURN_MS)
  server.listen(0, '127.0.0.1')
  await once(server, 'listening')
  return {
    port: (server.address() as AddressInfo).port,
    saidMs,
    async close() {
      clearInterval(timer)
      for (const socket of sockets) socket.destroy()
      server.close()
      await once(server, 'close')
    },
  }
}

async function post(address: string, path: string, body: unknown): Promise<{ id?: string }> {
  const answer = await fetch(new URL(path, address), {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  })
  if (!answer.ok) throw new Error(`${answer.status} ${await answer.text()}`)
  return (await answer.json()) as { id?: string }
}

const say = (name: string, values: readonly number[], limitMs: number): string => {
  const sorted = [...values].sort((a, b) => a - b)
  const p99 = quantile(sorted, 0.99)
  return (
    `  ${name.padEnd(18)} median ${quantile(sorted, 0.5).toFixed(1)} ms, p99 ${p99.toFixed(1)} ms, greatest ${(sorted.at(-1) ?? Number.NaN).toFixed(1)} ms ` +
    `(target: p99 under ${limitMs} ms, ${p99 < limitMs ? 'kept' : 'missed'}; n = ${sorted.length})`
  )
}

/** Watches pages for a while: what each saw. */
async function watchFor(forS: number, pages: readonly Page[]): Promise<Seen[][]> {
  for (const page of pages) await forgetSeen(page)
  await pause(forS * 1_000)
  return Promise.all(pages.map(seenOn))
}

const pulls = (page: Page): Promise<void> =>
  page.locator('.pull[data-moment="pulling"]').waitFor({ timeout: 60_000 })

async function watchPage(page: Page, { saidMs }: Device): Promise<string[]> {
  const session = await page.context().newCDPSession(page)
  await session.send('Performance.enable', { timeDomain: 'threadTicks' })
  await pulls(page)
  await watchFor(3, [page])
  const heaps = [await heapMb(session)]
  const processes = [processMb()]
  const all: Seen[] = []
  let script = 0
  let frames = 0
  // What the page has noted is taken from it after each part, or its notes would be what grows.
  for (let part = 0; part < PARTS; part++) {
    await pause(SETTLE_MS)
    const before = await metric(session, 'ScriptDuration')
    const [seen] = await watchFor(SECONDS / PARTS, [page])
    script += (await metric(session, 'ScriptDuration')) - before
    frames += await framesOn(page)
    all.push(...(seen ?? []))
    heaps.push(await heapMb(session))
    processes.push(processMb())
  }
  return [
    say(
      'line to pixel',
      all.map(one => one.shownMs - (saidMs[one.sample] ?? Number.NaN)),
      LIMIT_MS,
    ),
    say(
      'message to pixel',
      all.map(one => one.shownMs - one.cameMs),
      LIMIT_MS,
    ),
    `  script ${((1_000 * script) / frames).toFixed(2)} ms a frame, ${(frames / SECONDS).toFixed(0)} frames a second`,
    `  heap of the page   ${row(heaps)} MiB`,
    `  this process       ${row(processes)} MiB resident`,
  ]
}

/** How much later than on the page at the bench a sample is on the second screen. */
async function watchSecond(page: Page, second: Page): Promise<string> {
  await pulls(second)
  await pause(OPEN_SETTLE_MS)
  const [seen, seenThere] = await watchFor(SECOND_S, [page, second])
  const later = laterMs(seen ?? [], seenThere ?? [])
  return say(
    'second screen',
    later.map(ms => Math.max(0, ms)),
    SECOND_LIMIT_MS,
  )
}

const folder = await mkdtemp(join(tmpdir(), 'tenterhook-live-'))
const store = await openStore(good(storePlace(join(folder, 'store'), {})))
const complain = (...what: readonly unknown[]) => console.error(...what)
const webFolder = await builtApp()
const server = good(
  await startServer({ store, port: 0, lan: false, webFolder, onTrouble: complain, onFault: complain }),
)
const browser = await startBrowser()
/** A page in a window of its own: one that lies behind another is not drawn. */
const opened = async (address: string): Promise<Page> => {
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } })
  await page.addInitScript(WATCH_PIXELS)
  await page.goto(address)
  return page
}
try {
  const study = await post(server.address, '/api/studies', { name: 'Live', question: '' })
  const specimen = await post(server.address, `/api/studies/${study.id}/specimens`, { name: 'one' })
  for (const rateHz of RATES_HZ) {
    const line = await device(rateHz)
    await post(server.address, '/api/line', { source: { kind: 'tcp', host: '127.0.0.1', port: line.port } })
    await pause(1_500)
    await post(server.address, '/api/line/arm', { specimenId: specimen.id })
    const page = await opened(`${server.address}#/study/${study.id}/pull`)
    console.log(`${rateHz} samples a second`)
    for (const text of await watchPage(page, line)) console.log(text)
    const second = await opened(`${server.address}screen`)
    console.log(await watchSecond(page, second))
    await Promise.all([page.close(), second.close()])
    good(await server.desk.giveUp('benchmark'))
    good(await server.desk.close())
    await line.close()
  }
} finally {
  await browser.close()
  await server.stop()
  await store.close()
  await rm(folder, { recursive: true, force: true })
}
