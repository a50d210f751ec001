import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { CDPSession, Page } from 'playwright-core'
import { seeded } from '../src/capture/pretend/random.ts'
import type { Recording } from '../src/core/recording.ts'
import { startServer } from '../src/server/index.ts'
import { openStore, type Store, storePlace } from '../src/store/index.ts'
import { startBrowser } from '../test/browser/browser.ts'
import { builtApp } from '../test/browser/builtApp.ts'

/**
 * The place Read in a real browser, on the built app and its real server:
 *   panning       script time per frame while a curve of 10 million samples is dragged to and fro, whole and close by
 *                 (target: 95 of 100 frames under 16.7 ms)
 *   re-reading    from a changed figure in the form of an adjustment to the new reading on the screen, 100,000 samples
 *                 (target: under 100 ms)
 * Script time is that of the page's own thread, by the browser's own count of its CPU time, so that other work on the
 * machine counts less. Run: `npm run bench browserRead`; BENCH_SAMPLES makes the long curve shorter.
 */

const LONG = Number(process.env.BENCH_SAMPLES ?? 10_000_000)
const SHORT = 100_000
const FRAMES = 300
const CHANGES = 20
const FRAME_MS = 1000 / 60
const QUIET_MS = 400

/** Pulls with partial breaks, and noise. */
function madeUp(name: string, samples: number, rateHz: number): Recording {
  const random = seeded(1)
  const pull = Math.floor(samples / 4)
  const timeS = Float64Array.from({ length: samples }, (_, i) => i / rateHz)
  const forceN = timeS.map((_, i) => {
    const share = ((i % pull) / pull - 0.2) / 0.6
    const force = share > 0 && share < 1 ? 80 * (0.9 * share + 0.1 * ((share * 12) % 1)) : 0
    return force + 0.05 * (random.next() - 0.5)
  })
  return {
    name,
    sha256: '',
    timeS,
    forceN,
    forceUnit: 'N',
    timeFrom: 'column',
    segments: [{ from: 0, to: samples, began: 'start', name, sha256: '', shiftS: 0 }],
    channels: [],
    notes: [],
    assumptions: [],
    understood: 'made up',
  }
}

const good = <T>(outcome: { ok: true; value: T } | { ok: false; problems: readonly unknown[] }): T => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems))
  return outcome.value
}

async function keep(store: Store, studyId: string, recording: Recording): Promise<string> {
  const specimen = good(await store.specimens.create(studyId, { name: recording.name, status: 'pulled' }))
  const log = new TextEncoder().encode(`${recording.name}, made up\n`)
  good(await store.recordings.save({ recording, log, source: 'log', specimenId: specimen.id }))
  return specimen.id
}

const quantile = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN

function tell(what: string, ms: readonly number[], limitMs: number): void {
  const sorted = [...ms].sort((a, b) => a - b)
  const [half, p95, most] = [quantile(sorted, 0.5), quantile(sorted, 0.95), sorted.at(-1) ?? Number.NaN]
  console.log(
    `${what.padEnd(46)} median ${half.toFixed(1)} ms, p95 ${p95.toFixed(1)} ms, most ${most.toFixed(1)} ms` +
      ` (target p95 under ${limitMs.toFixed(1)} ms: ${p95 < limitMs ? 'kept' : 'missed'}; n = ${ms.length})`,
  )
}

/** Seconds of script of the page's thread so far. */
async function scriptS(session: CDPSession): Promise<number> {
  const { metrics } = await session.send('Performance.getMetrics')
  return metrics.find(({ name }) => name === 'ScriptDuration')?.value ?? Number.NaN
}

const nextFrame = (page: Page) =>
  page.evaluate('new Promise(done => requestAnimationFrame(() => setTimeout(done)))')

/** Script time of each frame of a drag to and fro over the plot. */
async function dragged(page: Page, session: CDPSession): Promise<number[]> {
  const box = await page.locator('.curve-pad').boundingBox()
  if (!box) throw new Error('no curve on the screen')
  const y = box.y + box.height / 2
  await page.mouse.move(box.x + box.width / 2, y)
  await page.mouse.down()
  // What asking itself costs is no work of the curve.
  const idle: number[] = []
  for (let i = 0; i < 20; i++) {
    const before = await scriptS(session)
    await nextFrame(page)
    idle.push(1000 * ((await scriptS(session)) - before))
  }
  const own = quantile(
    idle.sort((a, b) => a - b),
    0.5,
  )
  const frames: number[] = []
  for (let i = 0; i < FRAMES; i++) {
    const before = await scriptS(session)
    await page.mouse.move(box.x + box.width * (0.5 + 0.45 * Math.sin(i / 10)), y)
    await nextFrame(page)
    frames.push(Math.max(0, 1000 * ((await scriptS(session)) - before) - own))
  }
  await page.mouse.up()
  return frames
}

/**
 * Types a figure into the form and waits until the new reading is on the screen, its curve included: until nothing
 * has been drawn for a while. Gives the time from typing to the last drawing, in ms.
 */
const typed = (value: string): string => `new Promise(done => {
  const field = document.querySelector('.read-form input')
  const busy = document.querySelector('[aria-busy]')
  const { prototype } = CanvasRenderingContext2D
  prototype.wiped ??= prototype.clearRect
  const start = performance.now()
  let last = start
  let readAt = 0
  prototype.clearRect = function (...given) {
    last = performance.now()
    return this.wiped(...given)
  }
  let wasBusy = false
  const watch = new MutationObserver(() => {
    if (busy.getAttribute('aria-busy') === 'true') wasBusy = true
    else if (wasBusy) {
      watch.disconnect()
      requestAnimationFrame(() => setTimeout(() => { readAt = performance.now() }))
    }
  })
  watch.observe(busy, { attributes: true })
  const timer = setInterval(() => {
    if (readAt === 0 || performance.now() - Math.max(last, readAt) < ${QUIET_MS}) return
    clearInterval(timer)
    done({ figuresMs: readAt - start, curveMs: Math.max(last, readAt) - start })
  }, 20)
  Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value').set.call(field, '${value}')
  field.dispatchEvent(new Event('input', { bubbles: true }))
})`

const READ_MS = 180_000
const folder = await mkdtemp(join(tmpdir(), 'tenterhook-bench-'))
const store = await openStore(good(storePlace(join(folder, 'store'), {})))
const study = good(await store.studies.create({ name: 'Long curves' }))
const longId = await keep(store, study.id, madeUp('long', LONG, 10_000))
const shortId = await keep(store, study.id, madeUp('short', SHORT, 1000))
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
try {
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } })
  const session = await page.context().newCDPSession(page)
  await session.send('Performance.enable', { timeDomain: 'threadTicks' })

  const opened = performance.now()
  await page.goto(`${server.address}#/study/${study.id}/read/${longId}`)
  await page.locator('.read-result .numeral').waitFor({ timeout: READ_MS })
  console.log(
    `${LONG} samples are read and on the screen after ${((performance.now() - opened) / 1000).toFixed(1)} s`,
  )
  for (const [name, presses] of [
    ['dragging, half of it in view', 2],
    ['dragging, a hundredth of it in view', 11],
  ] as const) {
    await page.locator('.curve-pad').focus()
    await page.keyboard.press('0')
    for (let i = 0; i < presses; i++) await page.keyboard.press('+')
    await page.waitForTimeout(500)
    tell(name, await dragged(page, session), FRAME_MS)
  }

  await page.goto(`${server.address}#/study/${study.id}/read/${shortId}`)
  await page.getByRole('heading', { level: 1, name: 'short' }).waitFor()
  await page.locator('.read-result .numeral').waitFor({ timeout: READ_MS })
  await page.getByRole('button', { name: 'Sensitivity to drops', exact: true }).click()
  const times: { figuresMs: number; curveMs: number }[] = []
  // The first reads the record once for itself.
  for (let i = 0; i <= CHANGES; i++) times.push(await page.evaluate(typed(`${1 + (1 + i) / 100}`)))
  const settled = times.slice(1)
  tell(
    're-reading 100,000 samples, to the figures',
    settled.map(time => time.figuresMs),
    100,
  )
  tell(
    're-reading 100,000 samples, to the drawn curve',
    settled.map(time => time.curveMs),
    100,
  )
} finally {
  await browser.close()
  await server.stop()
  await store.close()
  await rm(folder, { recursive: true, force: true })
}
