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

/**
 * The place Pull in a real browser, over a network line on this machine that says 80, then 1,000 samples a second:
 *   arrival to pixel   from a message of samples in the page to the start of the frame after the one that drew it
 *                      (target: p99 under 50 ms)
 *   script a frame     of the page's own thread, by the browser's count of its CPU time
 *   heap               of the page after a collection, a few seconds after the start and at the end
 * Run: `npm run bench livePull`; BENCH_SECONDS is how long each rate is watched (30; 1800 for half an hour).
 */
const SECONDS = Number(process.env.BENCH_SECONDS ?? 30)
const RATES_HZ = [80, 1_000] as const
const TURN_MS = 10
const LIMIT_MS = 50

const good = <T>(outcome: { ok: true; value: T } | { ok: false; problems: readonly unknown[] }): T => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems))
  return outcome.value
}

/** Notes when samples arrive, and when the frame after the one that drew them begins. */
const WATCH = `
  globalThis.watched = { waits: [], frames: 0, drawn: false, waiting: [] }
  const Plain = WebSocket
  globalThis.WebSocket = class extends Plain {
    constructor(...given) {
      super(...given)
      this.addEventListener('message', ({ data }) => {
        if (data.startsWith('{"kind":"samples"')) watched.waiting.push(performance.now())
      })
    }
  }
  const stroke = CanvasRenderingContext2D.prototype.stroke
  CanvasRenderingContext2D.prototype.stroke = function (...given) {
    watched.drawn = true
    return stroke.apply(this, given)
  }
  const look = now => {
    watched.frames++
    if (watched.drawn) {
      for (const at of watched.shown ?? []) watched.waits.push(now - at)
      watched.shown = watched.waiting
      watched.waiting = []
      watched.drawn = false
    } else if (watched.shown) {
      for (const at of watched.shown) watched.waits.push(now - at)
      watched.shown = null
    }
    requestAnimationFrame(look)
  }
  requestAnimationFrame(look)
`

async function metric(session: CDPSession, name: string): Promise<number> {
  const { metrics } = await session.send('Performance.getMetrics')
  return metrics.find(one => one.name === name)?.value ?? Number.NaN
}

async function heapMb(session: CDPSession): Promise<number> {
  await session.send('HeapProfiler.collectGarbage')
  return (await metric(session, 'JSHeapUsedSize')) / 1024 / 1024
}

const quantile = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN

/** A device that says `time_ms,force_N`, a few lines each turn, as its clock goes. */
async function device(rateHz: number): Promise<{ port: number; close(): Promise<void> }> {
  const sockets = new Set<Socket>()
  const beganMs = performance.now()
  let said = 0
  const server = createServer(socket => {
    sockets.add(socket)
    socket.on('error', () => sockets.delete(socket))
    socket.write('time_ms,force_N\n')
  })
  const timer = setInterval(() => {
    const due = Math.floor(((performance.now() - beganMs) * rateHz) / 1_000)
    let text = ''
    for (; said < due; said++) {
      const t = said / rateHz
      const force = t < 4 ? 0 : 40 + 30 * Math.sin(t / 3)
      text += `${((said * 1_000) / rateHz).toFixed(2)},${(force + 0.01 * (said % 3)).toFixed(2)}\n`
    }
    for (const socket of sockets) if (text !== '') socket.write(text)
  }, TURN_MS)
  server.listen(0, '127.0.0.1')
  await once(server, 'listening')
  return {
    port: (server.address() as AddressInfo).port,
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

async function watch(page: Page, session: CDPSession, rateHz: number): Promise<void> {
  await page.locator('.pull[data-moment="pulling"]').waitFor({ timeout: 60_000 })
  await pause(3_000)
  const heapBefore = await heapMb(session)
  await page.evaluate('watched.waits = []; watched.frames = 0')
  const scriptBefore = await metric(session, 'ScriptDuration')
  await pause(SECONDS * 1_000)
  const script = (await metric(session, 'ScriptDuration')) - scriptBefore
  const { waits, frames } = await page.evaluate<{ waits: number[]; frames: number }>(
    '({ waits: watched.waits, frames: watched.frames })',
  )
  const heapAfter = await heapMb(session)
  const sorted = [...waits].sort((a, b) => a - b)
  const p99 = quantile(sorted, 0.99)
  console.log(
    `${`${rateHz} samples a second`.padEnd(26)} arrival to pixel: median ${quantile(sorted, 0.5).toFixed(1)} ms, ` +
      `p99 ${p99.toFixed(1)} ms (target under ${LIMIT_MS} ms: ${p99 < LIMIT_MS ? 'kept' : 'missed'}; n = ${sorted.length}); ` +
      `script ${((1_000 * script) / frames).toFixed(2)} ms a frame; heap ${heapBefore.toFixed(1)} → ${heapAfter.toFixed(1)} MiB`,
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
try {
  const study = await post(server.address, '/api/studies', { name: 'Live', question: '' })
  const specimen = await post(server.address, `/api/studies/${study.id}/specimens`, { name: 'one' })
  for (const rateHz of RATES_HZ) {
    const line = await device(rateHz)
    await post(server.address, '/api/line', { source: { kind: 'tcp', host: '127.0.0.1', port: line.port } })
    await pause(1_500)
    await post(server.address, '/api/line/arm', { specimenId: specimen.id })
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 } })
    await page.addInitScript(WATCH)
    await page.goto(`${server.address}#/study/${study.id}/pull`)
    const session = await page.context().newCDPSession(page)
    await session.send('Performance.enable', { timeDomain: 'threadTicks' })
    await watch(page, session, rateHz)
    await page.close()
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
