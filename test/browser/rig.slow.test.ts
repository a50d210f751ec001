import { mkdtemp, rm } from 'node:fs/promises'
import { createServer, type Server, type Socket } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { ran } from '../cli/fakeIo.ts'
import { good } from '../store/stores.ts'
import { type AppUnderTest, checkEveryLook, keepScreenshot, startApp } from './app.ts'

let app: AppUnderTest
let studyId = ''
beforeAll(async () => {
  app = await startApp()
  studyId = good(await app.store.studies.create({ name: 'Knots' })).id
}, 240_000)
afterEach(() => app.server.desk.close())
afterAll(() => app?.stop())

const next = (page: Page) => page.locator('.next-line')

/** A converter that sends counts, 80 a second. */
async function converter(): Promise<{ port: number; level: number; stop(): Promise<void> }> {
  const sockets = new Set<Socket>()
  const bench = { port: 0, level: 50_012, stop: async () => {} }
  let count = 0
  const server: Server = createServer(socket => {
    sockets.add(socket)
    socket.on('close', () => sockets.delete(socket)).on('error', () => {})
  })
  await new Promise<void>(done => server.listen(0, '127.0.0.1', done))
  const timer = setInterval(() => {
    count++
    for (const socket of sockets) socket.write(`${bench.level + (count % 3) - 1}\n`)
  }, 12.5)
  bench.port = (server.address() as { port: number }).port
  bench.stop = async () => {
    clearInterval(timer)
    for (const socket of sockets) socket.destroy()
    await new Promise(done => server.close(done))
  }
  return bench
}

const addMass = async (page: Page, name: string, kg: string): Promise<void> => {
  await page.getByLabel('Its name').fill(name)
  await page.getByLabel('Mass in kg').fill(kg)
  await page.getByLabel(/Error of that scale/).fill('1')
  await page
    .getByRole('form', { name: 'A new thing of known mass' })
    .getByRole('button', { name: 'Add it' })
    .press('Enter')
  await page.locator('.rig-masses', { hasText: name }).waitFor()
}

test('a newcomer names a rig, two household masses, and calibrates by what the display reads', async () => {
  const { page, close } = await app.open(`/study/${studyId}/rig`)
  await next(page).getByText('Give your rig a name').waitFor()
  await page.getByRole('button', { name: 'Name it' }).press('Enter')
  await page.keyboard.type('nut rig')
  await page.keyboard.press('Enter')
  await next(page).getByText('Name two things').waitFor()
  await addMass(page, 'jug', '1.043')
  await next(page).getByText('Name one thing').waitFor()
  await addMass(page, 'brick', '2.306')
  await page.getByRole('button', { name: /^Place/ }).press('Enter')
  await page.getByLabel('Latitude in degrees').fill('52.1')
  await page.keyboard.press('Enter')
  await page.getByText('“Latitude in degrees, south negative” is changed.').waitFor()
  await next(page).getByRole('button', { name: 'Calibrate' }).press('Enter')
  await page.getByRole('button', { name: 'Begin' }).press('Enter')
  const readings = ['50012', '60246', '72640', '82874', '72645', '60251', '50014']
  const typeAll = async (from: number): Promise<void> => {
    for (const [i, reading] of readings.entries()) {
      await next(page)
        .getByText(i === 1 ? 'Hang “jug” and type' : 'type what the rig reads')
        .waitFor()
      await page.getByLabel('Reading, in counts').fill(reading)
      await page.keyboard.press('Enter')
      await page
        .locator('.rig tbody tr')
        .nth(from + i)
        .waitFor()
    }
  }
  await typeAll(0)
  await page.getByText('No class is reached.').waitFor()
  // A class asks how well a load repeats: twice at least.
  await page.getByRole('button', { name: 'Hang them once more' }).press('Enter')
  await typeAll(readings.length)
  await page.getByText('Within the limits of class 0.5').first().waitFor()
  await page.reload()
  await next(page).getByRole('button', { name: 'Keep it' }).press('Enter')
  await page.getByText('The calibration is in force.').waitFor()
  const [rig] = await app.store.rigs.list()
  const { calibrations } = rig!.document as {
    calibrations: { points: unknown[]; coefficients: number[]; date: string }[]
  }
  expect(calibrations).toHaveLength(1)
  expect(calibrations[0]?.points).toHaveLength(14)
  expect(calibrations[0]?.coefficients[1]).toBeCloseTo(0.001, 5)
  expect(await app.store.calibrations.list(rig?.id)).toHaveLength(1)
  await next(page)
    .getByText('Hang the check mass of 1.043 kg (jug): the rig has not been checked today.')
    .waitFor()
  await next(page).getByRole('button').press('Enter')
  await next(page).getByText('Leave the hook empty').waitFor()
  await page.getByLabel('Reading, in counts').fill('50015')
  await page.keyboard.press('Enter')
  await next(page).getByText('Hang 1.043 kg (jug)').waitFor()
  await page.getByLabel('Reading, in counts').fill('60250')
  await page.keyboard.press('Enter')
  await page.getByText('The rig reads as it should.').first().waitFor()
  await page.locator('.rig-chart svg').waitFor()
  await next(page).getByText('was checked today').waitFor()
  expect((await app.store.checks.list(rig?.id))[0]?.document).toMatchObject({ verdict: 'within' })
  await close()
}, 240_000)

test('listens to the line: a reading is taken once it stands still, elsewhere than before', async () => {
  const bench = await converter()
  const { page, close } = await app.open('/')
  // As it was chosen the last time: the list of serial ports, which not every machine tells, is then not asked for.
  const line = { kind: 'tcp', host: '127.0.0.1', port: String(bench.port), unit: 'counts' }
  await page.evaluate(`localStorage.setItem('tenterhook.line', ${JSON.stringify(JSON.stringify(line))})`)
  await page.goto(`${app.address}#/study/${studyId}/rig`)
  await page.reload()
  await page.locator('#rig-calibrate').getByText('Listen to the line instead of typing').click()
  await page.locator('#rig-calibrate').getByRole('button', { name: 'Open the line' }).click()
  await page.getByText('stands still', { exact: true }).waitFor()
  await page.getByRole('button', { name: 'Begin' }).click()
  await next(page).getByText('Leave the hook empty and wait').waitFor()
  await next(page).getByRole('button', { name: 'Take the reading' }).click()
  await next(page).getByText('Hang “jug”').waitFor()
  await next(page).getByRole('button', { name: 'It has not moved' }).waitFor()
  bench.level = 60_246
  await next(page).getByRole('button', { name: 'Waiting for it to stand still' }).waitFor()
  await next(page).getByRole('button', { name: 'Take the reading' }).click()
  await page.locator('.rig tbody tr').nth(1).waitFor()
  bench.level = 72_640
  await next(page).getByText('Hang “brick”').waitFor()
  await next(page).getByRole('button', { name: 'Take the reading' }).click({ timeout: 20_000 })
  await page.getByText(/class/).first().waitFor()
  const shown = await page.locator('.rig tbody tr').nth(1).textContent()
  expect(shown).toMatch(/6024[56]/)
  await page.getByRole('button', { name: 'Keep it with these points' }).click()
  await page.getByText('The calibration is in force.').waitFor()
  // The line is open again with the rig, so that the check is read in newton by the new calibration.
  await page.getByRole('button', { name: 'Check it' }).last().click()
  bench.level = 50_012
  await next(page).getByText('Leave the hook empty and wait').waitFor()
  await next(page).getByRole('button', { name: 'Take the reading' }).click({ timeout: 20_000 })
  await next(page).getByText('Hang 1.043 kg (jug) and wait').waitFor()
  bench.level = 60_246
  await next(page).getByRole('button', { name: 'Take the reading' }).click({ timeout: 20_000 })
  await page.getByText('The rig reads as it should.').first().waitFor()
  const [rig] = await app.store.rigs.list()
  const [check] = await app.store.checks.list(rig!.id)
  expect((check!.document as { indicatedN: number }).indicatedN).toBeCloseTo(10.234, 2)
  await close()
  await bench.stop()
}, 240_000)

test('a field that cannot be so says why beside it', async () => {
  const { page, close } = await app.open(`/study/${studyId}/rig`)
  await page.getByRole('button', { name: /^Load cell/ }).click()
  await page.getByLabel('Capacity, in N').fill('heavy')
  await page.keyboard.press('Enter')
  await page.getByText('This is not a figure above 0, such as 12 or 1.5.').waitFor()
  await page.getByLabel('Capacity, in N').fill('500')
  await page.keyboard.press('Enter')
  await page.getByRole('button', { name: /Load cell.*500 N/ }).waitFor()
  await page.getByRole('button', { name: 'Undo' }).click()
  await page.getByRole('button', { name: /Load cell.*What can it bear/ }).waitFor()
  await close()
})

test('a quick scale by one mass: it says what it cannot know, and is what the command line makes of it', async () => {
  const { page, close } = await app.open(`/study/${studyId}/rig`)
  await page.locator('summary', { hasText: 'A quick scale by one mass' }).click()
  await page.getByText('One mass cannot tell').waitFor()
  const form = page.getByRole('form', { name: 'A quick scale by one mass' })
  await form.getByLabel('What hangs').selectOption('brick')
  await form.getByLabel('The rig reads in').selectOption('counts')
  await form.getByRole('button', { name: 'Keep this scale' }).click()
  await expect.poll(() => page.getByText('This is not a number').count()).toBe(2)
  await form.getByLabel('Reading of the empty hook').fill('50012')
  await form.getByLabel('Reading with the mass').fill('72640')
  await keepScreenshot(page, 'rig-quick')
  await form.getByRole('button', { name: 'Keep this scale' }).click()
  await page.getByText('The quick scale is in force.').waitFor()
  await page.getByText(/In force: .*good to ±1\.\d+\s%/).waitFor()
  const [rig] = await app.store.rigs.list()
  const { calibrations } = rig!.document as { calibrations: object[] }
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-quick-'))
  const words = ['--mass', '2.306kg', '--mass-tolerance', '1g', '--reading', '72640', '--zero', '50012']
  const { date } = calibrations.at(-1) as { date: string }
  const { out } = await ran([
    ...['rig', 'quick', '--rig', join(folder, 'rig.json'), '--latitude', '52.1', '--date', date, '--json'],
    ...words,
  ])
  await rm(folder, { recursive: true })
  const told = JSON.parse(out) as Record<string, number>
  const kept = calibrations.at(-1) as Record<string, number>
  expect(kept).toMatchObject({ document: 'tenterhook.quick-scale', basis: 'one-mass', zeroReading: 50_012 })
  for (const key of ['newtonPerReading', 'appliedN'] as const) expect(kept[key]).toBeCloseTo(told[key]!, 6)
  // The command line knows from its digits how well the latitude is told.
  expect(kept.doubtPct).toBeCloseTo(told.doubtPct!, 4)
  await page.getByRole('button', { name: 'Undo' }).click()
  await page
    .getByText(/In force: .*class/i)
    .first()
    .waitFor()
  await close()
})

test('by the keyboard alone: the line is chosen and opened, the cell described, and the quick scale is kept', async () => {
  const bench = await converter()
  const { page, close } = await app.open(`/study/${studyId}/rig`)
  await next(page).getByRole('button').or(next(page).getByRole('link')).first().waitFor()
  /** Goes on with Tab, as one who uses no mouse has to. */
  const tabTo = async (what: string): Promise<void> => {
    for (let i = 0; i < 80; i++) {
      await page.keyboard.press('Tab')
      const on = await page.evaluate<string>(
        `(() => { const on = document.activeElement; return [on?.getAttribute('aria-label'), on?.labels?.[0]?.textContent, on?.textContent].filter(Boolean).join(' ') })()`,
      )
      if (on.includes(what)) return
    }
    throw new Error(`the keyboard does not come to “${what}”`)
  }
  await tabTo('Load cell')
  await page.keyboard.press('Enter')
  await tabTo('Capacity, in N')
  await page.keyboard.type('400')
  await page.keyboard.press('Enter')
  await page.getByRole('button', { name: /Load cell.*400 N/ }).waitFor()
  await tabTo('Listen to the line instead of typing')
  await page.keyboard.press('Enter')
  await tabTo('Serial port')
  // Radio buttons are one stop: the arrows go on in them.
  while (!(await page.getByLabel('Network line').isChecked())) await page.keyboard.press('ArrowDown')
  await tabTo('Address')
  await page.keyboard.type('127.0.0.1')
  await tabTo('Port number')
  await page.keyboard.press('Control+A')
  await page.keyboard.type(String(bench.port))
  await page.keyboard.press('Enter')
  await page.getByText('stands still', { exact: true }).waitFor()
  await tabTo('A quick scale by one mass')
  await page.keyboard.press('Enter')
  const form = page.getByRole('form', { name: 'A quick scale by one mass' })
  await form.getByRole('button', { name: 'Take it from the line' }).first().waitFor()
  await tabTo('Take it from the line')
  await page.keyboard.press('Enter')
  await expect.poll(() => form.getByLabel('Reading of the empty hook').inputValue()).toMatch(/^5001[12]/)
  bench.level = 60_246
  await tabTo('Reading with the mass')
  await page.keyboard.press('Tab')
  // As one does who is impatient: until it stands still the press does nothing.
  const pressed = async () => {
    await page.keyboard.press('Enter')
    return form.getByLabel('Reading with the mass').inputValue()
  }
  await expect.poll(pressed, { interval: 500, timeout: 20_000 }).toMatch(/^6024[56]/)
  await tabTo('Keep this scale')
  await page.keyboard.press('Enter')
  await page.getByText('The quick scale is in force.').waitFor()
  await page.getByRole('button', { name: 'Undo' }).press('Enter')
  await close()
  await bench.stop()
}, 180_000)

test('holds in every look, and nothing serious is found', async () => {
  await checkEveryLook(app, `/study/${studyId}/rig`, 'rig', async page => {
    await page.locator('.rig-chart svg').waitFor()
    await page.getByRole('button', { name: /^Load cell/ }).click()
    await page.getByLabel('Capacity, in N').waitFor()
  })
}, 240_000)
