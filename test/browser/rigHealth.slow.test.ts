import { afterAll, beforeAll, expect, test } from 'vitest'
import { makePull, makeRigCheck } from '../../src/capture/pretend/index.ts'
import type { Recording } from '../../src/core/recording.ts'
import { readLog, writeCsv } from '../../src/logs/index.ts'
import { good } from '../store/stores.ts'
import { type AppUnderTest, checkEveryLook, keepScreenshot, startApp } from './app.ts'

let app: AppUnderTest
let studyId = ''
beforeAll(async () => {
  app = await startApp()
  studyId = good(await app.store.studies.create({ name: 'Knots' })).id
  const document = { name: 'nut rig', converter: { rateHz: 80 } }
  const rig = good(await app.store.rigs.create({ name: 'nut rig', document }))
  const { recording } = makePull({
    kind: 'slips',
    seed: 6,
    change: spec => ({ ...spec, troubles: { lostShare: 0.03 } }),
  })
  const log = Buffer.from(csvOf(recording))
  const read = good(readLog(log, 'pull.csv'))
  const kept = { recording: read, log, source: 'log' as const, rigId: rig.id }
  good(await app.store.recordings.save({ ...kept, startedAt: '2031-05-04T10:00:00.000Z' }))
}, 240_000)
afterAll(() => app?.stop())

const csvOf = (recording: Recording): string => [...writeCsv(recording)].join('')

test('a check from logs: what is wrong, its cost, its cure and where it is seen; kept, and beside it the ordinary pulls', async () => {
  const { logs } = makeRigCheck(4, chosen => ({
    ...chosen,
    troubles: { glitches: { doubled: 0.01 }, driftNPerMin: 0.4 },
  }))
  const { page, close } = await app.open(`/study/${studyId}/rig`)
  const steps = {
    free: 'Hanging free',
    mass: 'A mass hung and left',
    taps: 'Three taps',
    pull: 'A slow pull by hand',
  }
  for (const { step, recording } of logs) {
    const file = { name: `${step}.csv`, mimeType: 'text/csv', buffer: Buffer.from(csvOf(recording)) }
    await page.getByLabel(`Log: ${steps[step]}`).setInputFiles(file)
    await page.getByText(`${recording.timeS.length} readings`).first().waitFor()
  }
  await page.getByRole('button', { name: 'Look it through' }).click()
  await page.getByText('2 things are wrong, gravest first.').waitFor()
  await page.getByText(/are doubled: one bit too many/).waitFor()
  // Each with its evidence: a band over the minute of drift, a mark above each wild reading.
  expect(await page.locator('.health-list > li').count()).toBe(2)
  expect(await page.locator('.health-trace .rig-stand-band').count()).toBeGreaterThan(0)
  expect(await page.locator('.health-trace .health-mark').count()).toBeGreaterThan(20)
  await keepScreenshot(page, 'rig-health')
  await page.getByRole('button', { name: 'Keep it in the history' }).click()
  await page.getByText('What was found is kept with the rig.').waitFor()
  await page.locator('summary', { hasText: 'Over the weeks' }).click()
  await page.getByRole('cell', { name: '2031-05-04' }).waitFor()
  const ordinary = page.getByRole('row').filter({ hasText: '2031-05-04' })
  expect(await ordinary.textContent()).toMatch(/a recording.*readings are missing/)
  expect(await page.getByRole('row').filter({ hasText: 'a check' }).textContent()).toMatch(/are doubled/)
  await keepScreenshot(page, 'rig-weeks')
  const [rig] = await app.store.rigs.list()
  const { health } = rig!.document as { health: { findings: { code: string }[] }[] }
  expect(health[0]!.findings.map(f => f.code).sort()).toEqual(['drift', 'glitch-doubled'])
  await close()
}, 240_000)

test('holds in every look, and nothing serious is found', async () => {
  await checkEveryLook(app, `/study/${studyId}/rig`, 'rig-health', async page => {
    await page.locator('summary', { hasText: 'Over the weeks' }).click()
    await page.getByRole('cell', { name: '2031-05-04' }).waitFor()
  })
}, 240_000)
