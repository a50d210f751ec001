import { createHash } from 'node:crypto'
import {
  copyFileSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { ran } from '../cli/fakeIo.ts'
import { seriousFaults } from './app.ts'
import {
  addSpecimen,
  newStudy,
  openPort,
  type PageBench,
  pageBench,
  toPlace,
  waitForKept,
} from './pageBench.ts'
import { atMoment, peakOf } from './pullBench.ts'
import { converter, SERIAL_STUB } from './serialStub.ts'

/** Pull in the one HTML file, without any server. The serial port is a stub of the browser's interface. */

let bench: PageBench
let complaints: string[] = []
let asked: string[] = []
beforeEach(async () => {
  bench = await pageBench({ script: SERIAL_STUB })
  complaints = []
  asked = []
  bench.context.on('request', request => asked.push(request.url()))
  bench.page.on('console', message => complaints.push(message.text()))
  bench.page.on('pageerror', error => complaints.push(String(error)))
}, 240_000)
afterEach(() => bench.stop())

test('a practice pull is recorded, read and kept, and asks nobody for anything', async () => {
  const { page } = bench
  await newStudy(page, 'Knots', ['reef', 'granny'])
  await toPlace(page, 'pull')
  await addSpecimen(page, 'reef')
  await page.getByLabel('Pretend rig').check()
  await page.getByLabel('What it pulls').selectOption('brittle')
  await page.getByRole('button', { name: 'Open the line' }).last().click()
  await atMoment(page, 'pulling')
  await atMoment(page, 'let-go')
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  const [kept] = await waitForKept(page, 1)
  expect(kept).toMatchObject({ source: 'live', state: 'complete', device: /^pretend rig brittle/ })
  expect(await peakOf(page.getByRole('button', { name: /^Peak force/ }))).toBeGreaterThan(10)
  expect(asked.filter(url => !/^(data|blob|file):/.test(url))).toEqual([])
  expect(complaints).toEqual([])
}, 120_000)

test('a pull over a serial port of the browser is kept whole, and a lead that was cut and put back is told in it', async () => {
  const { page } = bench
  const device = converter(page)
  await newStudy(page, 'Knots', ['reef'])
  await toPlace(page, 'pull')
  await addSpecimen(page, 'reef')
  await openPort(page)
  await device.says(3, () => 0)
  await atMoment(page, 'ready')
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  await device.says(1, () => 0)
  await device.says(2, t => 20 * t)
  await atMoment(page, 'pulling')
  await page.evaluate('bench.unplug()')
  await page.locator('[data-alarm="line-lost"]').waitFor()
  await page.evaluate('bench.plugIn()')
  await page.locator('[data-alarm="line-lost"]').waitFor({ state: 'detached' })
  await device.says(0.5, t => 40 + 20 * t)
  await device.says(2, () => 0)
  await atMoment(page, 'let-go')
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  const [kept] = await waitForKept(page, 1)
  // All that was said since it was armed: 1 + 2 + 0.5 + 2 s, 50 times a second. Of the 3 s before, what arrived in the
  // five seconds before the tug: on a slow machine that may be none of it, since this device says seconds in a moment.
  expect(kept?.samplesThere).toBeGreaterThanOrEqual(5.5 * 50)
  expect(kept?.samplesThere).toBeLessThanOrEqual(8.5 * 50)
  expect(kept?.device).toContain('USB 1a86:7523, 115200 baud')
  const peak = page.getByRole('button', { name: /^Peak force/ })
  expect(await peakOf(peak)).toBeGreaterThan(49)
  expect(await peakOf(peak)).toBeLessThan(51)
  // The next one, added with the mouse: Space is still the key of the pull, and adds no second.
  await page.keyboard.press('Space')
  await atMoment(page, 'no-specimen')
  await page.locator('.pull-add').getByRole('button', { name: 'reef' }).click()
  await page.locator('.pull-order li[data-now="true"]').waitFor()
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  expect(complaints).toEqual([])
}, 120_000)

test('a browser that is killed in the middle of a pull: what was due is recovered when the page is opened again', async () => {
  const { page } = bench
  await newStudy(page, 'Knots', ['reef'])
  await toPlace(page, 'pull')
  await addSpecimen(page, 'reef')
  await openPort(page)
  await page.evaluate('bench.run(200, 6)')
  await atMoment(page, 'ready')
  await page.keyboard.press('Space')
  await atMoment(page, 'pulling')
  await page.waitForTimeout(1_000)
  // What was said 200 ms ago is due.
  const said = await page.evaluate<number>('bench.said')
  await page.waitForTimeout(200)
  process.kill(bench.pid, 'SIGKILL')
  await bench.close().catch(() => {})
  bench = await bench.again()
  await bench.page.locator('[data-recovered="1"]').waitFor()
  const [kept] = await waitForKept(bench.page, 1)
  expect(kept).toMatchObject({ source: 'live', state: 'recovered' })
  expect(kept?.specimenId).not.toBeNull()
  expect(kept?.lastOfChannel).toBeGreaterThanOrEqual(said - 1)
  expect(kept?.samplesThere).toBe(kept?.samples)
}, 120_000)

test('two windows never record into one study at once', async () => {
  const { page } = bench
  await newStudy(page, 'Knots', ['reef'])
  await toPlace(page, 'pull')
  await addSpecimen(page, 'reef')
  await openPort(page)
  await page.evaluate('bench.run(100, 60)')
  await atMoment(page, 'ready')
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  const other = await bench.context.newPage()
  await other.goto(page.url())
  await other.getByLabel('Pretend rig').check()
  await other.getByRole('button', { name: 'Open the line' }).last().click()
  await other.getByText('another window of this browser is recording into it').waitFor()
  // It holds for as long as the first has it in hand.
  await page.keyboard.press('Escape')
  await atMoment(page, 'ready')
  await atMoment(other, 'ready')
  await other.keyboard.press('Space')
  await atMoment(other, 'armed')
}, 120_000)

test('it works at the width of a phone', async () => {
  const { page } = bench
  await page.setViewportSize({ width: 360, height: 640 })
  await newStudy(page, 'Knots', ['reef'])
  await toPlace(page, 'pull')
  await addSpecimen(page, 'reef')
  await openPort(page)
  await converter(page).says(3, () => 0)
  await atMoment(page, 'ready')
  expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(360)
  expect(await seriousFaults(page)).toEqual([])
}, 120_000)

test('without serial ports it says which browsers have them, and takes the log of a pull as before', async () => {
  const { page } = bench
  await page.addInitScript("Object.defineProperty(Navigator.prototype, 'serial', { get: () => null })")
  await page.reload()
  await newStudy(page, 'Knots', ['reef'])
  await toPlace(page, 'pull')
  await page.getByText('browsers built on Chromium do').waitFor()
  expect(await page.getByLabel('Serial port of this computer').count()).toBe(0)
  await page.getByRole('link', { name: 'Drop logs' }).click()
  await page.locator('input[type="file"]').first().waitFor({ state: 'attached' })
}, 120_000)

/** Stands in for the browser's own question for a folder: nobody can answer that in a test. Its files go to this disk. */
const FOLDER_STUB = `
  const files = new Map()
  globalThis.showDirectoryPicker = async () => ({
    name: 'bench disk',
    getFileHandle: async name => ({
      async createWritable({ keepExistingData }) {
        let all = (keepExistingData && files.get(name)) || new Uint8Array()
        return {
          async write({ position, data }) {
            if (position > all.length) throw new Error('it would leave a hole')
            const longer = new Uint8Array(Math.max(all.length, position + data.length))
            longer.set(all)
            longer.set(data, position)
            all = longer
          },
          async close() {
            files.set(name, all)
            await keepFile(name, btoa(Array.from(all, byte => String.fromCharCode(byte)).join('')))
          },
          async abort() {},
        }
      },
    }),
  })
`

test('a copy in a folder is a journal that the command line takes in, cut off or ended', async () => {
  const { page } = bench
  const folder = mkdtempSync(join(tmpdir(), 'tenterhook-copies-'))
  const store = ['--store', join(folder, 'store')]
  try {
    await bench.context.exposeFunction('keepFile', (name: string, base64: string) =>
      replaceFile(join(folder, name), Buffer.from(base64, 'base64')),
    )
    await page.addInitScript(FOLDER_STUB)
    await page.reload()
    await newStudy(page, 'Knots', ['reef'])
    await toPlace(page, 'pull')
    await addSpecimen(page, 'reef')
    await page.getByRole('button', { name: 'Choose a folder' }).click()
    await page.getByText('copied into “bench disk”').waitFor()
    await openPort(page)
    await page.evaluate('bench.run(100, 5)')
    await atMoment(page, 'ready')
    await page.keyboard.press('Space')
    await atMoment(page, 'pulling')
    // Some seconds of it, while it still runs.
    const copy = join(folder, await firstJournal(folder))
    const running = await ran(['import', copy, ...store])
    expect(running.err).toContain('a program is writing this journal now')
    // Long after a crash.
    const cutOff = join(folder, 'cut-off.journal')
    copyFileSync(copy, cutOff)
    utimesSync(cutOff, 0, 0)
    expect(await ran(['import', cutOff, ...store])).toMatchObject({ code: 0 })
    await atMoment(page, 'let-go')
    await page.keyboard.press('Space')
    await atMoment(page, 'ended')
    const [kept] = await waitForKept(page, 1)
    // Whole once it has ended, and then at once.
    await vi.waitUntil(() => sha256Of(copy) === kept?.sha256, { timeout: 20_000 })
    const other = ['--store', join(folder, 'other')]
    expect(await ran(['import', copy, ...other])).toMatchObject({ code: 0 })
    const listed = await ran(['list', '--json', ...other])
    expect(listed.out).toContain(kept?.sha256)
    expect(listed.out).toContain('reef-1')
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}, 120_000)

/** In one step, as the browser does when a writable file is closed: nobody sees half of it. */
function replaceFile(path: string, bytes: Uint8Array): void {
  writeFileSync(`${path}.part`, bytes)
  renameSync(`${path}.part`, path)
}

const sha256Of = (path: string): string => createHash('sha256').update(readFileSync(path)).digest('hex')

const firstJournal = (folder: string): Promise<string> =>
  vi.waitUntil(() => readdirSync(folder).find(file => file.endsWith('.journal')), { timeout: 20_000 })
