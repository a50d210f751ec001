import { execFileSync } from 'node:child_process'
import { setTimeout as pause } from 'node:timers/promises'
import type { CDPSession, Page } from 'playwright-core'
import { forgetSeen, type Seen, seenOn, WATCH_PIXELS } from '../test/browser/livePixels.ts'
import {
  addSpecimen,
  newStudy,
  openPort,
  type PageBench,
  pageBench,
  toPlace,
  waitForKept,
} from '../test/browser/pageBench.ts'
import { SERIAL_STUB } from '../test/browser/serialStub.ts'

/**
 * The place Pull of the one HTML file in a real browser, without any server. The serial port is a stub of the browser’s
 * interface: a worker of the page says the lines, by the clock, 80, then 1,000 a second.
 *   line to pixel   from the saying of a line to the beginning of the frame after the one that drew it (target: p99
 *                   under 50 ms)
 *   lost            samples of the recording that were said and are not kept, and those that came out of order
 *   heap            of the window after a collection, and the memory of all processes of the browser, at the start and
 *                   at the end of each of six parts
 * Run: `npm run bench pagePull`; BENCH_SECONDS is how long each rate is recorded (30; 300 for five minutes, 1800 for
 * half an hour), BENCH_RATES which ("80,1000").
 */
const SECONDS = Number(process.env.BENCH_SECONDS ?? 30)
const RATES_HZ = (process.env.BENCH_RATES ?? '80,1000').split(',').map(Number)
const PARTS = 6
const LIMIT_MS = 50
/** A recording of half an hour is made and read in a thread beside, on a busy machine in some minutes. */
const LONGEST_S = 600

const quantile = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN
const row = (values: readonly number[]): string => values.map(value => value.toFixed(1)).join(' ')

async function heapMb(session: CDPSession): Promise<number> {
  await session.send('HeapProfiler.collectGarbage')
  const { metrics } = await session.send('Performance.getMetrics')
  return (metrics.find(({ name }) => name === 'JSHeapUsedSize')?.value ?? Number.NaN) / 1024 / 1024
}

/** Memory of the browser with all its processes, shared parts counted once. */
function browserMb(pid: number): number {
  const lines = execFileSync('ps', ['-eo', 'pid=,ppid=,rss='], { encoding: 'utf8' })
    .trim()
    .split('\n')
    .map(line => line.trim().split(/\s+/).map(Number))
  const own = new Set([pid])
  for (let grown = true; grown; ) {
    grown = false
    for (const [child, parent] of lines)
      if (own.has(parent!) && !own.has(child!)) {
        own.add(child!)
        grown = true
      }
  }
  return lines.reduce((sum, [child, , kb]) => sum + (own.has(child!) ? kb! / 1024 : 0), 0)
}

/** When each sample was said. */
async function saidOn(page: Page): Promise<(sample: number) => number> {
  const due = await page.evaluate<[to: number, atMs: number][]>('bench.due')
  return sample => due.find(([to]) => sample < to)?.[1] ?? Number.NaN
}

async function record(bench: PageBench, rateHz: number): Promise<void> {
  const { page } = bench
  const session = await page.context().newCDPSession(page)
  await session.send('Performance.enable')
  await newStudy(page, `Rate ${rateHz}`, ['reef'])
  await toPlace(page, 'pull')
  await addSpecimen(page, 'reef')
  await openPort(page)
  await page.evaluate(`bench.run(${rateHz}, 6)`)
  await page.locator('.pull[data-moment="ready"]').waitFor()
  await page.keyboard.press('Space')
  await page.locator('.pull[data-moment="pulling"]').waitFor({ timeout: 60_000 })
  const heaps = [await heapMb(session)]
  const processes = [browserMb(bench.pid)]
  const lateMs: number[] = []
  for (let part = 0; part < PARTS; part++) {
    await pause(500)
    await forgetSeen(page)
    await page.evaluate('bench.due.length = 0')
    await pause((SECONDS / PARTS) * 1_000)
    const [seen, said] = [await seenOn(page), await saidOn(page)] as [Seen[], (sample: number) => number]
    for (const { sample, shownMs } of seen) lateMs.push(shownMs - said(sample))
    heaps.push(await heapMb(session))
    processes.push(browserMb(bench.pid))
  }
  console.log(`${rateHz} lines/s for ${SECONDS} s`)
  console.log(`  heap           ${row(heaps)} MB; all processes ${row(processes)} MB`)
  const known = lateMs.filter(Number.isFinite).sort((a, b) => a - b)
  const p99 = quantile(known, 0.99)
  console.log(
    `  line to pixel  median ${quantile(known, 0.5).toFixed(1)} ms, p99 ${p99.toFixed(1)} ms, greatest ${(known.at(-1) ?? Number.NaN).toFixed(1)} ms (target: p99 under ${LIMIT_MS} ms, ${p99 < LIMIT_MS ? 'kept' : 'missed'}; n = ${known.length})`,
  )
  await page.evaluate('bench.halt()')
  const said = await page.evaluate<number>('bench.said')
  await pause(500)
  // Whatever moment it is in by then: kept down, the key gives up, and what was recorded is kept all the same.
  await page.keyboard.down('Escape')
  await pause(1_500)
  await page.keyboard.up('Escape')
  const [kept] = (await waitForKept(page, 1, LONGEST_S)).slice(-1)
  const first = kept ? (kept.firstOfChannel ?? Number.NaN) : Number.NaN
  console.log(
    `  lost           ${said - first - (kept?.samplesThere ?? 0)} of ${said - first} samples that were said since sample ${first}, last kept ${kept?.lastOfChannel}, said up to ${said - 1}`,
  )
}

for (const rateHz of RATES_HZ) {
  const bench = await pageBench({ script: `${SERIAL_STUB};${WATCH_PIXELS}` })
  try {
    await record(bench, rateHz)
  } finally {
    await bench.stop()
  }
}
