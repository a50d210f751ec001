import { seeded } from '../src/capture/pretend/random.ts'
import type { Recording } from '../src/core/recording.ts'
import {
  countScript,
  FRAME_MS,
  good,
  keep,
  madeUp,
  scriptOfFrames,
  startBench,
  tell,
} from './browser/bench.ts'

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
const CHANGES = 100
const QUIET_MS = 400

/** Pulls with partial breaks, and noise. */
function pulls(name: string, samples: number, rateHz: number): Recording {
  const random = seeded(1)
  const pull = Math.floor(samples / 4)
  const timeS = Float64Array.from({ length: samples }, (_, i) => i / rateHz)
  const forceN = timeS.map((_, i) => {
    const share = ((i % pull) / pull - 0.2) / 0.6
    const force = share > 0 && share < 1 ? 80 * (0.9 * share + 0.1 * ((share * 12) % 1)) : 0
    return force + 0.05 * (random.next() - 0.5)
  })
  return madeUp(name, timeS, forceN)
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
const bench = await startBench()
const study = good(await bench.store.studies.create({ name: 'Long curves' }))
const longId = await keep(bench.store, study.id, pulls('long', LONG, 10_000))
const shortId = await keep(bench.store, study.id, pulls('short', SHORT, 1000))
try {
  const page = await bench.browser.newPage({ viewport: { width: 1280, height: 800 } })
  const session = await countScript(page)

  const opened = performance.now()
  await page.goto(`${bench.address}#/study/${study.id}/read/${longId}`)
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
    tell(name, await scriptOfFrames(page, session, { drags: true, y: () => 0.5 }), FRAME_MS)
  }

  await page.goto(`${bench.address}#/study/${study.id}/read/${shortId}`)
  await page.getByRole('heading', { level: 1, name: 'short' }).waitFor()
  await page.locator('.read-result .numeral').waitFor({ timeout: READ_MS })
  await page.getByRole('button', { name: 'Sensitivity to drops', exact: true }).click()
  const times: { figuresMs: number; curveMs: number }[] = []
  // The first reads the record once for itself; it waits until the place stands, which is put together anew once more.
  await page.waitForTimeout(QUIET_MS)
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
  await bench.stop()
}
