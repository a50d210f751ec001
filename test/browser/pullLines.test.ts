import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { type PtyPair, ptyPair } from '../capture/node/ptyPair.ts'
import { good } from '../store/stores.ts'
import { type AppUnderTest, startApp } from './app.ts'
import { atMoment, openPull, peakOf, studyToPull } from './pullBench.ts'

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp()
}, 240_000)
afterEach(async () => {
  const { desk } = app.server
  if (desk.recording) await desk.giveUp('the test is over')
  await desk.close()
})
afterAll(() => app?.stop())

test('a newcomer pulls with the pretend rig: one press opens it and waits for the tug, and the specimen is in Read', async () => {
  const study = await studyToPull(app, ['try-1', 'try-2'])
  const { page, close } = await openPull(app, study.place)
  await page.getByLabel('Pretend rig').check()
  await page.getByLabel('What it pulls').selectOption('brittle')
  await page.getByRole('button', { name: 'Open the line' }).first().click()
  await atMoment(page, 'armed')
  await atMoment(page, 'pulling')
  await page.locator('.pull[data-moment="let-go"]').waitFor({ timeout: 45_000 })
  await page.locator('.pull-reading .numeral').waitFor()
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  const peak = await peakOf(page.locator('.pull-reading .numeral'))
  expect(peak).toBeGreaterThan(0)
  await page.getByRole('link', { name: 'Look at it in Read' }).click()
  await page.locator('.read-result .numeral').first().waitFor()
  expect(await peakOf(page.locator('.read-result .numeral').first())).toBeCloseTo(peak, 1)
  // What was practised with is no choice for another study.
  await app.server.desk.close()
  const other = await studyToPull(app, ['real-1'])
  await page.goto(`${app.address}#${other.place}`)
  await atMoment(page, 'no-line')
  await page.getByLabel('Network line').waitFor()
  expect(await page.getByLabel('Pretend rig').isChecked()).toBe(false)
  await close()
})

test('who goes to Read before the recording is stored sees it there once it is', async () => {
  const study = await studyToPull(app, ['early-1'])
  const { page, close } = await openPull(app, study.place)
  const { recordings } = app.store
  const { save } = recordings
  // Storing takes until the person is in Read.
  let letStore = () => {}
  const mayBeStored = new Promise<void>(resolve => {
    letStore = resolve
  })
  Object.assign(recordings, {
    async save(added: Parameters<typeof save>[0]) {
      await mayBeStored
      return save.call(recordings, added)
    },
  })
  try {
    await page.getByLabel('Pretend rig').check()
    await page.getByLabel('What it pulls').selectOption('brittle')
    await page.getByRole('button', { name: 'Open the line' }).first().click()
    await page.locator('.pull[data-moment="let-go"]').waitFor({ timeout: 45_000 })
    await page.keyboard.press('Space')
    await atMoment(page, 'ended')
    await page.getByRole('link', { name: 'Look at it in Read' }).click()
    await page.locator('.read-head h1').getByText('early-1').waitFor()
    letStore()
    await page.locator('.read-result .numeral').first().waitFor()
  } finally {
    Object.assign(recordings, { save })
    letStore()
  }
  await close()
})

test('over a serial line: the cable is pulled out in mid-pull and put back, and the recording goes on', async () => {
  const study = await studyToPull(app, ['wire-1'])
  const pty: PtyPair = await ptyPair()
  const { page, close } = await openPull(app, study.place)
  await page.getByLabel('Port, as the system names it').fill(pty.port)
  await page.getByRole('button', { name: 'Open the line' }).last().click()
  await expect.poll(() => app.server.desk.line().open?.kind).toBe('serial')
  let atMs = 0
  /** A converter that says its force 50 times a second, by its own clock. */
  const says = async (forS: number, force: (t: number) => number) => {
    let text = ''
    for (let t = 0; t < forS; t += 0.02, atMs += 20)
      text += `${atMs},${(force(t) + 0.01 * (atMs % 3)).toFixed(2)}\n`
    await pty.say(text)
  }
  await pty.say('time_ms,force_N\n')
  await says(3, () => 0)
  await atMoment(page, 'ready')
  await page.evaluate('document.activeElement.blur()')
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  await says(1, () => 0)
  await says(2, t => 10 * t)
  await atMoment(page, 'pulling')
  await pty.unplug()
  await page.locator('[data-alarm="line-lost"]').waitFor()
  await atMoment(page, 'pulling')
  await pty.plugIn()
  await page.locator('[data-alarm="line-lost"]').waitFor({ state: 'detached', timeout: 20_000 })
  await says(1, t => 20 + 10 * t)
  await says(2, () => 0)
  await atMoment(page, 'let-go')
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  expect(await peakOf(page.locator('.pull-reading .numeral'))).toBeCloseTo(30, 0)
  await close()
  await pty.end()
})

test('a line that is chosen for the first time is that of the rig on the bench; the pretend rig has its own scale', async () => {
  const study = await studyToPull(app, ['scale-1'])
  const document = { document: 'tenterhook.rig', version: 1, cell: { capacityN: 200 } }
  const rig = good(await app.store.rigs.create({ name: 'nut rig', document }))
  const { page, close } = await openPull(app, study.place)
  const chosen = page.getByLabel('Rig', { exact: true })
  await expect.poll(() => chosen.inputValue()).toBe(rig.id)
  await page.getByLabel('Pretend rig').check()
  expect(await chosen.inputValue()).toBe('')
  await page.getByLabel('Network line').check()
  expect(await chosen.inputValue()).toBe(rig.id)
  await chosen.selectOption('')
  expect(await chosen.inputValue()).toBe('')
  await close()
})
