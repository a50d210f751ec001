import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { writeDemo } from '../../src/cli/demo/writeDemo.ts'
import { ran } from '../cli/fakeIo.ts'
import { type AppUnderTest, keepScreenshot, seriousFaults, startApp } from './app.ts'
import { type DroppedText, dropFiles } from './dropFiles.ts'

let app: AppUnderTest
let folder = ''
let logs: DroppedText[] = []
let table: DroppedText

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-logs-'))
  const made = await writeDemo(folder)
  expect(made.ok).toBe(true)
  const all = readdirSync(folder)
    .filter(name => name.endsWith('.csv'))
    .map(name => ({ name, text: readFileSync(join(folder, name), 'utf8') }))
  logs = all.filter(({ name }) => name !== 'specimens.csv')
  table = all.find(({ name }) => name === 'specimens.csv') as DroppedText
  app = await startApp()
}, 240_000)

afterAll(async () => {
  await app?.stop()
  rmSync(folder, { recursive: true, force: true })
})

test('from dropped logs and a table to read specimens, with the figures of the command line', async () => {
  const { page, close } = await app.open()
  await dropFiles(page, [...logs, table])
  const action = page.getByRole('button', { name: 'Name it' })
  await action.waitFor()
  await action.click()
  await page.keyboard.type('Handles from logs')
  // One specimen in two logs, in order, as the table says.
  const twoLogs = page.getByRole('region', { name: 'Specimen stitching-3' })
  await expect.poll(() => twoLogs.getByRole('article').count()).toBe(2)
  await keepScreenshot(page, 'import-demo-light')
  expect(await seriousFaults(page)).toEqual([])
  await page.getByRole('button', { name: 'Take in 16 logs' }).click()
  await page.getByRole('link', { name: 'Compare' }).last().waitFor({ timeout: 100_000 })
  await keepScreenshot(page, 'import-demo-done-light')

  const [study] = await app.store.studies.list()
  expect(study?.name).toBe('Handles from logs')
  const specimens = await app.store.specimens.list(study?.id ?? '')
  expect(specimens).toHaveLength(15)
  const readings = await app.store.readings.latestOfStudy(study?.id ?? '')
  const byCommand = await ran([
    'read',
    '--json',
    '--specimens',
    join(folder, 'specimens.csv'),
    ...logs.filter(({ name }) => !name.startsWith('stitching-3')).map(({ name }) => join(folder, name)),
  ])
  expect(byCommand.code, byCommand.err).toBe(0)
  for (const line of byCommand.out.trim().split('\n')) {
    const { specimen, results } = JSON.parse(line)
    const kept = readings.find(({ reading }) => reading.specimen?.name === specimen.name)
    expect(kept?.reading.results, specimen.name).toEqual(results)
    expect(kept?.reading.specimen).toEqual(specimen)
  }
  const joined = readings.find(({ reading }) => reading.specimen?.name === 'stitching-3')
  expect(joined?.recordingIds).toHaveLength(2)
  await page.getByRole('link', { name: 'Compare' }).last().click()
  await expect.poll(() => page.url()).toContain(`#/study/${study?.id}/compare`)
  await close()
}, 200_000)

test('logs that are there already are recognised, said where, and not taken twice', async () => {
  const { page, close } = await app.open()
  await dropFiles(page, logs.slice(0, 3))
  await page.getByText('is in the store already').nth(2).waitFor()
  await page.getByText('None of these logs is new').waitFor()
  await page.getByRole('link', { name: 'Open it there' }).first().click()
  await expect.poll(() => page.url()).toMatch(/#\/study\/[^/]+\/read\/[^/]+$/)
  expect((await app.store.recordings.list({ limit: 100 })).items).toHaveLength(16)
  await close()
}, 120_000)

test('what was taken in by mistake is taken back, and can be taken in again', async () => {
  const { page, close } = await app.open()
  const oops = [{ name: 'oops-1.csv', text: logs[0]?.text.replace(/\n$/, '\n9999,0\n') ?? '' }]
  await dropFiles(page, oops)
  await page.getByLabel('Name of the new study').fill('A slip')
  await page.getByRole('button', { name: 'Take in 1 log' }).click()
  await page.getByText('1 log taken into “A slip”.').waitFor()
  await page.getByRole('button', { name: 'Undo' }).click()
  await page.getByText('Taken back.').waitFor()
  expect((await app.store.studies.list()).map(({ name }) => name)).toEqual(['Handles from logs'])
  const { items } = await app.store.recordings.list({ withSetAside: true, search: 'oops', limit: 10 })
  expect(items.map(({ setAside }) => setAside?.why)).toEqual(['taken in by mistake'])

  await dropFiles(page, oops)
  await page.getByText('set aside (taken in by mistake)').waitFor()
  await page.getByLabel('Name of the new study').fill('After all')
  await page.getByRole('button', { name: 'Take in 1 log' }).click()
  await page.getByText('1 log taken into “After all”.').waitFor()
  const again = await app.store.recordings.list({ search: 'oops', limit: 10 })
  expect(again.items.map(({ id, study }) => [id, study?.name])).toEqual([[items[0]?.id, 'After all']])
  await close()
}, 120_000)
