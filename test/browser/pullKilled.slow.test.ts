import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openStore, storePlace } from '../../src/store/index.ts'
import { type TcpRig, tcpRig } from '../server/tcpRig.ts'
import { good } from '../store/stores.ts'
import { keepScreenshot, openPage } from './app.ts'
import { startBrowser } from './browser.ts'
import { atMoment, openLine, peakOf, studyToPull } from './pullBench.ts'

const launcher = fileURLToPath(new URL('../../bin/tenterhook.js', import.meta.url))
const builtPage = fileURLToPath(new URL('../../dist/web/index.html', import.meta.url))
/** What arrived this long before the end is on disk, whatever ends the program. */
const SAFE_MS = 200

let folder = ''
let browser: Browser
let child: ChildProcess | null = null
beforeAll(async () => {
  if (!existsSync(builtPage)) throw new Error('the app is not built: `npm run build` first')
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-killed-'))
  browser = await startBrowser()
}, 120_000)
afterAll(async () => {
  child?.kill('SIGKILL')
  await browser?.close()
  await rm(folder, { recursive: true, force: true })
})

/** The built command, as a person starts it; gives its address. */
async function start(port: number): Promise<string> {
  const words = ['start', '--no-open', '--json', '--port', `${port}`, '--store', join(folder, 'store')]
  const own = spawn(process.execPath, [launcher, ...words], { stdio: ['ignore', 'pipe', 'pipe'] })
  child = own
  let said = ''
  own.stderr.on('data', chunk => {
    said += chunk
  })
  return await new Promise<string>((resolve, reject) => {
    let out = ''
    own.stdout.on('data', chunk => {
      out += chunk
      if (out.includes('\n')) resolve((JSON.parse(out) as { address: string }).address)
    })
    own.once('exit', code => reject(new Error(`the server ended (${code}): ${said}`)))
  })
}

/** Says a pull in real time, 100 samples a second, and when each sample was said. */
async function pullFor(
  rig: TcpRig,
  fromS: number,
  forS: number,
  force: (t: number) => number,
  saidMs: number[],
) {
  const beganMs = performance.now()
  for (let doneS = 0; doneS < forS - 1e-9; ) {
    await new Promise(resolve => setTimeout(resolve, 20))
    const toS = Math.min(forS, Math.floor((performance.now() - beganMs) / 10) / 100)
    if (toS <= doneS) continue
    rig.pull(fromS + doneS, fromS + toS, t => force(t - fromS))
    for (let i = Math.round(doneS * 100); i < Math.round(toS * 100); i++) saidMs.push(performance.now())
    doneS = toS
  }
}

test('the server is killed in mid-pull: the page says so and goes on by itself, and all but the last moment is kept', async () => {
  const address = await start(0)
  const port = Number(new URL(address).port)
  const study = await studyToPull({ address }, ['paste-1'])
  const rig = await tcpRig()
  const watched = await openPage(browser, `${address}#${study.place}`)
  const { page } = watched
  let atS = 0
  const hand = {
    tcp: rig,
    rest(forS: number) {
      rig.pull(atS, atS + forS, () => 0)
      atS += forS
    },
    up: () => {},
    breaks: () => {},
    close: () => rig.close(),
  }
  await openLine(page, hand)
  await page.evaluate('document.activeElement.blur()')
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  const saidMs: number[] = []
  await pullFor(rig, atS, 3, t => 12 * t, saidMs)
  await atMoment(page, 'pulling')

  // As when the power goes: it can do nothing more.
  const killedMs = performance.now()
  child?.kill('SIGKILL')
  await once(child!, 'exit')
  await atMoment(page, 'away')
  await page.getByText(/What it had on its disk is taken in/).waitFor()
  expect(await start(port)).toBe(address)
  await atMoment(page, 'no-line')
  await page.getByText(/What was on its disk of “paste-1” by then was taken in/).waitFor()
  await keepScreenshot(page, 'pull-killed')

  // Space opens the same line again, for the same specimen, and the pull goes on.
  await page.keyboard.press('Space')
  await page.locator('.pull[data-moment="ready"], .pull[data-moment="loaded"]').waitFor()
  rig.pull(atS + 6, atS + 9, () => 0)
  await atMoment(page, 'ready')
  expect(await page.locator('.pull h1').textContent()).toBe('paste-1')
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  rig.pull(atS + 9, atS + 10, () => 0)
  rig.pull(atS + 10, atS + 13, t => 15 * (t - atS - 10))
  rig.pull(atS + 13, atS + 15, () => 0)
  await atMoment(page, 'let-go')
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  expect(await peakOf(page.locator('.pull-reading .numeral'))).toBeCloseTo(45, 0)
  await page.close()
  child?.kill('SIGINT')
  await once(child!, 'exit')

  const store = await openStore(good(storePlace(join(folder, 'store'), {})))
  const { items } = await store.recordings.list({ specimenId: study.specimens[0]?.id ?? '' })
  const kept = items.find(({ state }) => state === 'recovered')
  expect(items).toHaveLength(2)
  const { timeS, forceN } = good(await store.recordings.load(kept?.id ?? ''))
  const due = saidMs.filter(ms => killedMs - ms > SAFE_MS).length
  // From rest up to the last sample that must be there: each of them is, and the greatest is the last of them or later.
  const inPull = timeS.length - forceN.findIndex(n => n > 0.1)
  expect(due).toBeGreaterThan(200)
  expect(inPull).toBeGreaterThanOrEqual(due - 2)
  expect(Math.max(...forceN)).toBeGreaterThanOrEqual((12 * due) / 100 - 0.2)
  await store.close()
  // The console tells of the requests that found no server: those, and nothing else, were complained of.
  expect(watched.complaints.filter(text => !/ERR_|WebSocket/.test(text))).toEqual([])
  await rig.close()
}, 240_000)
