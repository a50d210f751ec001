import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, checkEveryLook, startApp } from './app.ts'
import { atMoment, handRig, openLine, openPull, studyToPull } from './pullBench.ts'

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp()
}, 240_000)
afterEach(async () => {
  await app.server.desk.close()
})
afterAll(() => app?.stop())

const withoutPorts = () => ({ open: (place = '/', look = {}) => openPull(app, place, look) })

test('choosing the line is sound in every look', async () => {
  const study = await studyToPull(app, ['look-1', 'look-2', 'look-3'])
  await checkEveryLook(withoutPorts(), study.place, 'pull-line', async page => {
    await atMoment(page, 'no-line')
    await page.getByLabel('Port, as the system names it').waitFor()
    await page.getByText('Keys', { exact: true }).click()
  })
}, 240_000)

test('so is the place with a line, as night and as paper; from across the room the force is two fifths of the view', async () => {
  const study = await studyToPull(app, ['look-4', 'look-5'])
  const rig = await handRig()
  const first = await openPull(app, study.place)
  await openLine(first.page, rig)
  await first.close()
  await checkEveryLook(withoutPorts(), study.place, 'pull-at-rest', async page => {
    await atMoment(page, 'ready')
    await page.locator('.curve-axes').waitFor({ state: 'attached' })
    // In the dark looks it stays as it is by itself; in the light ones it is asked for paper.
    if ((await page.evaluate('matchMedia("(prefers-color-scheme: light)").matches')) === true)
      await page.getByRole('button', { name: 'Paper' }).click()
  })
  const room = await openPull(app, study.place, { width: 1920, height: 1080 })
  await atMoment(room.page, 'ready')
  await room.page.keyboard.press('a')
  await expect.poll(() => room.page.locator('.curve').count()).toBe(0)
  const high = await room.page.evaluate<number>(
    'document.querySelector(".pull-figure").getBoundingClientRect().height',
  )
  expect(high / 1080).toBeGreaterThan(0.4)
  await room.close()
  await rig.close()
}, 240_000)
