import { gzipSync } from 'node:zlib'
import type { Browser } from 'playwright-core'
import { keepDemoStudy } from '../src/server/demoStudy.ts'
import { good, quantile, startBench } from './browser/bench.ts'

/**
 * The first load of the app in a real browser with nothing in its cache, on the built app and its real server: the time
 * to the first line that says what to do, and what was loaded by then, compressed as a server would (target: the app
 * with the shelf under 250 kB; the engine's thread is counted by itself, as nothing on the screen waits for it).
 * Run: `npm run bench firstLoad`.
 */

const TIMES = 15
const LIMIT_KB = 250

interface Load {
  readonly ms: number
  readonly appKb: number
  readonly engineKb: number
}

async function load(browser: Browser, address: string): Promise<Load> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } })
  const page = await context.newPage()
  const bodies: Promise<{ url: string; kb: number }>[] = []
  page.on('response', response => {
    if (!/\.(js|css|woff2?)$|\/$/.test(new URL(response.url()).pathname)) return
    const body = response.body().then(bytes => ({ url: response.url(), kb: gzipSync(bytes).length / 1000 }))
    bodies.push(body)
  })
  const began = performance.now()
  await page.goto(address)
  await page.locator('.next-line').waitFor()
  const ms = performance.now() - began
  await page.waitForLoadState('networkidle')
  const loaded = await Promise.all(bodies)
  await context.close()
  const sum = (isEngine: boolean) =>
    loaded.filter(({ url }) => /Worker/.test(url) === isEngine).reduce((all, { kb }) => all + kb, 0)
  return { ms, appKb: sum(false), engineKb: sum(true) }
}

const bench = await startBench()
try {
  for (const [name, prepare] of [
    ['an empty shelf', async () => {}],
    ['a shelf with a study', async () => void good(await keepDemoStudy(bench.store))],
  ] as const) {
    await prepare()
    const loads: Load[] = []
    for (let i = 0; i < TIMES; i++) loads.push(await load(bench.browser, bench.address))
    const ms = loads.map(one => one.ms)
    const appKb = Math.max(...loads.map(one => one.appKb))
    const engineKb = Math.max(...loads.map(one => one.engineKb))
    console.log(
      `${name.padEnd(22)} first line after ${quantile(ms, 0.5).toFixed(0)} ms (median; most ${Math.max(...ms).toFixed(0)} ms; n = ${TIMES})` +
        `, ${appKb.toFixed(0)} kB (target under ${LIMIT_KB} kB: ${appKb < LIMIT_KB ? 'kept' : 'missed'})` +
        ` and ${engineKb.toFixed(0)} kB for the engine's thread`,
    )
  }
} finally {
  await bench.stop()
}
