import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, keepScreenshot, openPage, seriousFaults, startApp } from './app.ts'
import {
  atMoment,
  forceOn,
  type HandRig,
  handRig,
  openLine,
  openPull,
  peakOf,
  studyToPull,
} from './pullBench.ts'

let app: AppUnderTest
let rig: HandRig | null = null
beforeAll(async () => {
  app = await startApp()
}, 240_000)
afterEach(async () => {
  await rig?.close()
  rig = null
  const { desk } = app.server
  if (desk.recording) await desk.giveUp('the test is over')
  await desk.close()
})
afterAll(() => app?.stop())

test('a pull by the keyboard alone, from the first tug to the next specimen; under load nothing is zeroed and nothing ends', async () => {
  const study = await studyToPull(app, ['paste-1', 'paste-2'])
  rig = await handRig()
  const { page, close } = await openPull(app, study.place, { height: 900 })
  await openLine(page, rig)
  await page.evaluate('document.activeElement.blur()')
  expect(await page.locator('.pull h1').textContent()).toBe('paste-1')
  expect(await page.locator('html').getAttribute('data-theme')).toBe('dark')
  await keepScreenshot(page, 'pull-ready')

  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  rig.rest(1)
  rig.up(30)
  await atMoment(page, 'pulling')
  await page.keyboard.press('Space')
  await page.getByText(/^Not now: .* pull at the specimen/).waitFor()
  await page.keyboard.press('z')
  await page.keyboard.press('1')
  await page.getByText('Noted: creaked').waitFor()
  rig.up(42)
  await page.keyboard.press('n')
  await page.getByLabel('Note', { exact: true }).fill('white at the fold')
  await page.keyboard.press('Enter')
  await page.getByText('white at the fold').first().waitFor()
  await keepScreenshot(page, 'pull-pulling')
  expect(await seriousFaults(page)).toEqual([])
  expect(app.server.desk.recording).toBe(true)

  rig.breaks()
  await atMoment(page, 'let-go')
  const soFar = page.locator('.pull-reading .numeral')
  await soFar.waitFor()
  expect(await peakOf(soFar)).toBeCloseTo(42, 0)
  await keepScreenshot(page, 'pull-let-go')
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  await page.keyboard.press('1')
  await page.locator('.pull-modes [aria-pressed="true"]').waitFor()
  await keepScreenshot(page, 'pull-ended')
  expect(await seriousFaults(page)).toEqual([])
  await page.keyboard.press('Space')
  await atMoment(page, 'ready')
  expect(await page.locator('.pull h1').textContent()).toBe('paste-2')

  const [first] = study.specimens
  const kept = (await app.store.recordings.list({ specimenId: first?.id ?? '' })).items
  expect(kept).toMatchObject([{ state: 'complete', setAside: null }])
  expect((await app.store.specimens.list(study.id)).find(({ id }) => id === first?.id)).toMatchObject({
    status: 'pulled',
    failureMode: 'glue',
  })
  await page.goto(`${app.address}#/study/${study.id}/read/${first?.id}`)
  expect(await peakOf(page.locator('.read-result .numeral').first())).toBeCloseTo(42, 0)
  // The place was dark by its nature; the others are as the person has them.
  expect(await page.locator('html').getAttribute('data-theme')).toBe('light')
  await close()
})

test('who pulls is said and changed before the tug, and is kept with the specimen', async () => {
  const study = await studyToPull(app, ['who-1', 'who-2'])
  rig = await handRig()
  const { page, close } = await openPull(app, study.place)
  await openLine(page, rig)
  const who = page.getByLabel('Who pulls')
  expect(await who.inputValue()).toBe('')
  await page.getByText('Nobody is named: the next recording is kept without a name.').waitFor()
  await who.fill('Ada')
  await who.press('Enter')
  await page.getByText('This name is kept with the next recording').waitFor()
  // Enter leaves the field, so that Space goes on with the pull.
  await page.keyboard.press('Space')
  await atMoment(page, 'armed')
  expect(await who.isDisabled()).toBe(true)
  expect(await who.inputValue()).toBe('Ada')
  rig.rest(1)
  rig.up(30)
  rig.breaks()
  await atMoment(page, 'let-go')
  await page.keyboard.press('Space')
  await atMoment(page, 'ended')
  const [first] = study.specimens
  await expect
    .poll(async () => {
      const specimen = await app.store.specimens.get(first?.id ?? '')
      return specimen.ok && specimen.value.operator
    })
    .toBe('Ada')
  await close()
})

test('a page that is closed in mid-pull and opened again joins the recording that runs', async () => {
  const study = await studyToPull(app, ['paste-3'])
  rig = await handRig()
  const first = await openPull(app, study.place)
  await openLine(first.page, rig)
  await first.page.evaluate('document.activeElement.blur()')
  await first.page.keyboard.press('Space')
  await atMoment(first.page, 'armed')
  rig.rest(1)
  rig.up(25)
  await atMoment(first.page, 'pulling')
  await first.close()
  rig.up(40)
  const again = await openPull(app, study.place)
  await atMoment(again.page, 'pulling')
  expect(await again.page.locator('.pull h1').textContent()).toBe('paste-3')
  await expect.poll(() => forceOn(again.page)).toBeCloseTo(40, 0)
  rig.breaks()
  await atMoment(again.page, 'let-go')
  await again.page.keyboard.press('Space')
  await atMoment(again.page, 'ended')
  // What was not answered yet is still asked when the page is opened once more.
  await again.page.reload()
  await atMoment(again.page, 'ended')
  expect(await peakOf(again.page.locator('.pull-reading .numeral'))).toBeCloseTo(40, 0)
  await again.page.keyboard.press('Space')
  await atMoment(again.page, 'no-specimen')
  await again.close()
})

test('a second screen shows the same and can change nothing', async () => {
  const study = await studyToPull(app, ['paste-4'])
  rig = await handRig()
  const bench = await openPull(app, study.place)
  await openLine(bench.page, rig)
  await bench.page.evaluate('document.activeElement.blur()')
  const second = await openPage(app.browser, `${app.address}screen`, { width: 360, height: 740 })
  await atMoment(second.page, 'ready')
  await bench.page.keyboard.press('Space')
  await atMoment(second.page, 'armed')
  rig.rest(1)
  rig.up(33)
  await atMoment(second.page, 'pulling')
  await expect.poll(() => forceOn(second.page)).toBeCloseTo(33, 0)
  expect(await second.page.locator('.pull h1').textContent()).toBe('paste-4')
  await second.page.keyboard.press('Space')
  await second.page.keyboard.down('Escape')
  await second.page.waitForTimeout(1_300)
  await second.page.keyboard.up('Escape')
  expect(app.server.desk.recording).toBe(true)
  // But for those that move the view of the curve there is nothing to press.
  expect(await second.page.locator('button:not(.curve button):not(.pull-unit)').count()).toBe(0)
  await keepScreenshot(second.page, 'pull-second-screen')
  expect(await seriousFaults(second.page)).toEqual([])
  rig.breaks()
  await atMoment(second.page, 'let-go')
  await second.close()
  await bench.close()
})
