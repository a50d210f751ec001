import { seededRandom } from '../src/core/statistics/random.ts'
import { keepReading } from '../src/server/specimenReading.ts'
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
 * The overlay of the place Compare in a real browser, on the built app and its real server: script time per frame while
 * 1,000 curves of 5,000 samples are dragged to and fro, whole and close by, and while the pointer goes over them and
 * one after another is brought out (target: 95 of 100 frames under 16.7 ms).
 * Run: `npm run bench browserCompare`; BENCH_CURVES makes it shorter.
 */

const CURVES = Number(process.env.BENCH_CURVES ?? 1000)
const SAMPLES = 5000
const RATE_HZ = 100
const VARIANTS = ['paste', 'glue', 'stitch', 'rivet', 'weld']
const LOAD_MS = 600_000

/** A rest, a ramp with a few partial breaks, a break, a rest. */
function pull(name: string, peakN: number, normal: () => number) {
  const timeS = Float64Array.from({ length: SAMPLES }, (_, i) => i / RATE_HZ)
  const forceN = timeS.map((_, i) => {
    const at = (i - 500) / (SAMPLES - 1000)
    const force = at < 0 || at >= 1 ? 0 : peakN * (0.9 * at + 0.1 * ((at * 8) % 1))
    return force + 0.04 * normal()
  })
  return madeUp(name, timeS, forceN)
}

const bench = await startBench()
const { store } = bench
const study = good(await store.studies.create({ name: 'Many curves' }))
const { normal } = seededRandom(1)
const variantIds: string[] = []
for (const name of VARIANTS) variantIds.push(good(await store.variants.create(study.id, { name })).id)
for (let i = 0; i < CURVES; i++) {
  const at = i % VARIANTS.length
  const recording = pull(`${VARIANTS[at]}-${i + 1}`, 80 + 3 * at + 7 * normal(), normal)
  const id = await keep(store, study.id, recording, variantIds[at] ?? null)
  good(await keepReading(store, id, []))
}
try {
  const page = await bench.browser.newPage({ viewport: { width: 1280, height: 800 } })
  const session = await countScript(page)
  const opened = performance.now()
  await page.goto(`${bench.address}#/study/${study.id}/compare`)
  await page.locator('.compare-overlay').waitFor({ timeout: LOAD_MS })
  await page.getByText(/^Curves: /).waitFor({ state: 'detached', timeout: LOAD_MS })
  console.log(
    `${CURVES} curves are on the screen after ${((performance.now() - opened) / 1000).toFixed(1)} s`,
  )
  await page.locator('.curve-pad').scrollIntoViewIfNeeded()
  for (const [name, presses] of [
    ['dragging, half of it in view', 2],
    ['dragging, a hundredth of it in view', 11],
  ] as const) {
    await page.locator('.curve-pad').focus()
    await page.keyboard.press('0')
    for (let i = 0; i < presses; i++) await page.keyboard.press('+')
    await page.waitForTimeout(1000)
    tell(name, await scriptOfFrames(page, session, { drags: true, y: () => 0.5 }), FRAME_MS)
  }
  await page.locator('.curve-pad').focus()
  await page.keyboard.press('0')
  await page.waitForTimeout(1000)
  const upAndDown = (frame: number) => 0.6 + 0.3 * Math.sin(frame / 17)
  tell(
    'pointing at one after another',
    await scriptOfFrames(page, session, { drags: false, y: upAndDown }),
    FRAME_MS,
  )
} finally {
  await bench.stop()
}
