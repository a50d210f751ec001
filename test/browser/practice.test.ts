import { afterAll, beforeAll, expect, test } from 'vitest'
import { keepReading } from '../../src/server/specimenReading.ts'
import { pretendRecording } from '../store/pretendRecording.ts'
import { good } from '../store/stores.ts'
import { type AppUnderTest, startApp } from './app.ts'

/** Pulls of the pretend rig are practice: marked wherever they are shown, and no part of a verdict. */

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp()
}, 240_000)
afterAll(() => app?.stop())

const REAL = 'serial /dev/bench'
const PRETEND = 'pretend rig brittle'
const SOON = { timeout: 20_000 }
const MARK = 'Practice, from the pretend rig: it says nothing of any real specimen.'

/** No two studies of this file have the same log: one log is kept once. */
let made = 0
const pullOf = (topN: number): number[] =>
  Array.from({ length: 300 }, (_, i) =>
    i < 60 || i >= 240 ? ((i * 7919) % 13) / 1000 : ((i - 60) / 180) * topN + ((i * 7919) % 13) / 1000,
  )

/** Two variants of three specimens, `stitch` the stronger; `deviceOf` says what sent the log of each. */
async function studyOf(study: string, deviceOf: (specimen: string) => string) {
  const ids: Record<string, string> = {}
  for (const [v, variant] of ['paste', 'stitch'].entries())
    for (const n of [1, 2, 3]) {
      const { id, name } = good(
        await app.store.specimens.named({ study, variant, specimen: `${variant} ${n}` }),
      )
      const log = pretendRecording(`${study}-${name}.csv`, pullOf(50 + 20 * v + n + ++made / 100))
      const device = deviceOf(name)
      good(await app.store.recordings.save({ ...log, source: 'live', device, specimenId: id }))
      good(await keepReading(app.store, id))
      ids[name] = id
    }
  return { id: (await app.store.studies.byName(study))!.id, ids }
}

test('of a study that is all practice, Compare and Read mark every name and curve', async () => {
  const { id, ids } = await studyOf('All practice', () => PRETEND)
  const { page, close } = await app.open(`/study/${id}/compare`)
  await page.locator('.answer-headline').waitFor(SOON)
  await page.getByText('paste (practice)').first().waitFor(SOON)
  await page.getByText('stitch (practice)').first().waitFor()
  // A variant stands nowhere in a figure without the mark.
  const names = await page.locator('main svg text').allTextContents()
  expect(names.filter(name => /^(paste|stitch)/.test(name) && !name.includes('(practice)'))).toEqual([])
  await page.goto(`${app.address}#/study/${id}/read/${ids['paste 2']}`)
  await page.getByText(MARK).waitFor(SOON)
  await close()
})

test('among real pulls practice is marked in Read, and left out of the verdict of Compare', async () => {
  const { id, ids } = await studyOf('Some practice', name => (name === 'stitch 3' ? PRETEND : REAL))
  const { page, close } = await app.open(`/study/${id}/read/${ids['stitch 3']}`)
  await page.getByText(MARK).waitFor(SOON)
  await page.goto(`${app.address}#/study/${id}/read/${ids['stitch 2']}`)
  await page.getByRole('heading', { name: 'stitch 2' }).first().waitFor(SOON)
  await page.locator('.numeral').first().waitFor(SOON)
  expect(await page.getByText(MARK).count()).toBe(0)
  // The curve of the practice pull stands thin among its kind, by its name with the mark.
  await page.goto(`${app.address}#/study/${id}/compare`)
  await page.locator('.answer-headline').waitFor(SOON)
  const answer = await fetch(`${app.address}api/studies/${id}/comparison`)
  expect(answer.ok).toBe(true)
  const { groups, specimens } = (await answer.json()) as {
    groups: { name: string; n: number }[]
    specimens: { name: string; state: string }[]
  }
  expect(groups.map(({ name, n }) => [name, n])).toEqual([
    ['paste', 3],
    ['stitch', 2],
  ])
  expect(specimens.some(({ name }) => name === 'stitch 3')).toBe(true)
  await page
    .getByText(/practice/i)
    .first()
    .waitFor(SOON)
  await close()
})
