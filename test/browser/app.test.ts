import { afterAll, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, seriousFaults, startApp } from './app.ts'

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp({ demo: true })
}, 240_000)
afterAll(() => app?.stop())

test('the app opens on the real server and shows the study that is in its store', async () => {
  const { page, close } = await app.open()
  await page.getByText('Carrier-bag handles').first().waitFor()
  await close()
})

test('the watch over a page sees a complaint, a stray request and a serious fault', async () => {
  const watched = await app.open(`/study/${app.demoId}/read`)
  const { page, complaints, strays } = watched
  await page.getByRole('navigation').waitFor()
  await page.evaluate(`console.error('a complaint'); new Image().src = 'http://192.0.2.1/stray.png'`)
  await page.evaluate(`document.body.append(document.createElement('button'))`)
  expect((await seriousFaults(page)).join()).toContain('button-name')
  await expect.poll(() => complaints).toContain('a complaint')
  await expect.poll(() => strays.length + complaints.length).toBeGreaterThan(1)
  await expect(watched.close()).rejects.toThrow('a complaint')
})
