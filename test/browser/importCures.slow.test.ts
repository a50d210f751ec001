import { afterAll, beforeAll, expect, test } from 'vitest'
import { type AppUnderTest, checkEveryLook, startApp } from './app.ts'
import { type DroppedText, dropFiles } from './dropFiles.ts'

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp()
}, 240_000)
afterAll(() => app?.stop())

/** A rest, a steady pull, a break, a rest, ten readings a second. */
const forces = (top: number): number[] =>
  Array.from({ length: 120 }, (_, i) => (i > 20 && i < 80 ? (top * (i - 20)) / 60 : 0) + 0.01 * (i % 3))
const timed = (top: number, header = 'time_s,force_N'): string =>
  `${header}\n${forces(top)
    .map((force, i) => `${(i / 10).toFixed(1)},${force.toFixed(3)}`)
    .join('\n')}\n`

const hostile: DroppedText[] = [
  { name: '<img src=x onerror=document.title=1>-1.csv', text: `# <b>note</b> of "hands"\n${timed(20)}` },
  {
    name: 'bare-1.txt',
    text: forces(30)
      .map(force => force.toFixed(3))
      .join('\n'),
  },
  { name: 'holiday.jpg', text: 'RIFF' },
]

test('hostile names and notes show as text, what is missing has its field beside it, in every look', async () => {
  await checkEveryLook(app, '/', 'import-cures', async page => {
    await dropFiles(page, hostile)
    await page.getByRole('heading', { name: '<img src=x onerror=document.title=1>-1.csv' }).waitFor()
    await page.getByText('it is a picture or a sound, not a log').waitFor()
    await page.getByText('1 log could not be understood').waitFor()
    await page.getByText('What was understood, and corrections').first().click()
    await page.getByText('# <b>note</b> of "hands"').first().waitFor()
    expect(await page.title()).toContain('Logs to take in')
    expect(await page.getByRole('alert').getByLabel('Samples a second').count()).toBe(1)
  })
}, 240_000)

test('by keyboard alone: the cure is typed where the trouble stands, the study named, and the logs taken in', async () => {
  const { page, close } = await app.open()
  await dropFiles(page, hostile.slice(0, 2))
  await page.getByRole('button', { name: 'Go to it' }).focus()
  await page.keyboard.press('Enter')
  const rate = page.getByRole('article').filter({ hasText: 'bare-1.txt' }).getByRole('alert')
  await rate.getByLabel('Samples a second').focus()
  await page.keyboard.type('10')
  await page.keyboard.press('Enter')
  await page.getByRole('button', { name: 'Name it' }).focus()
  await page.keyboard.press('Enter')
  await page.keyboard.type('Cures')
  // A correction changes what is understood before anything is kept.
  const first = page.getByRole('article').filter({ hasText: '<img' })
  await first.getByText('What was understood, and corrections').focus()
  await page.keyboard.press('Enter')
  await first.getByLabel('Unit of force').selectOption('lbf')
  await first
    .getByText(/\d\slbf/)
    .first()
    .waitFor()
  await page.getByRole('button', { name: 'Take in 2 logs' }).focus()
  await page.keyboard.press('Enter')
  await page.getByText('2 logs taken into “Cures”.').waitFor()
  const study = await app.store.studies.byName('Cures')
  const specimens = await app.store.specimens.list(study?.id ?? '')
  expect(specimens.map(({ name }) => name).sort()).toEqual([
    '<img src=x onerror=document.title=1> 1',
    'bare 1',
  ])
  const readings = await app.store.readings.latestOfStudy(study?.id ?? '')
  const units = readings.map(({ reading }) => [reading.recording.forceUnit, reading.recording.timeFrom])
  expect(units.sort()).toEqual([
    // Nobody told the unit of the bare numbers.
    [null, 'rate'],
    ['lbf', 'column'],
  ])
  await close()
}, 120_000)

test('one log that cannot be kept holds up no other, says why, and goes in when it is tried again', async () => {
  const watched = await app.open()
  const { page, complaints } = watched
  let refused = 0
  await page.route(/\/api\/recordings\?name=p-2/, route =>
    refused++ === 0
      ? route.fulfill({
          status: 507,
          json: { problems: [{ where: 'the store', what: 'the disk is full.', cure: 'Make room.' }] },
        })
      : route.continue(),
  )
  await dropFiles(
    page,
    [1, 2, 3].map(n => ({ name: `p-${n}.csv`, text: timed(40 + n) })),
  )
  await page.getByLabel('Name of the new study').fill('Full disk')
  await page.getByRole('button', { name: 'Take in 3 logs' }).click()
  await page.getByText('1 log could not be taken in, 2 are kept').waitFor()
  await page.getByRole('article').filter({ hasText: 'p-2.csv' }).getByText('the disk is full.').waitFor()
  await page.getByRole('button', { name: 'Go on' }).click()
  await page.getByRole('article').filter({ hasText: 'p-2.csv' }).getByText('in the store').waitFor()
  const study = await app.store.studies.byName('Full disk')
  await expect.poll(async () => (await app.store.readings.latestOfStudy(study?.id ?? '')).length).toBe(3)
  // The refused answer stands in the browser's console; nothing else may.
  expect(complaints.splice(0)).toHaveLength(1)
  await watched.close()
}, 120_000)

test('several logs are joined into one specimen by its name, in an order that can be changed', async () => {
  const { page, close } = await app.open()
  await dropFiles(page, [
    { name: 'first.csv', text: timed(51) },
    { name: 'second.csv', text: timed(52) },
  ])
  await page.getByLabel('Name of the new study').fill('Joined')
  const second = page.getByRole('region', { name: 'Specimen second' })
  await second.getByLabel('Specimen', { exact: false }).first().fill('first')
  await page.keyboard.press('Enter')
  await page.getByText('2 logs, joined in this order').waitFor()
  const one = page.getByRole('region', { name: 'Specimen first' })
  await one.getByRole('button', { name: 'earlier second.csv' }).click()
  await expect.poll(() => one.getByRole('heading').allTextContents()).toEqual(['second.csv', 'first.csv'])
  await page.getByRole('button', { name: 'Take in 2 logs' }).click()
  await page.getByText('2 logs taken into “Joined”.').waitFor()
  const study = await app.store.studies.byName('Joined')
  const { items } = await app.store.recordings.list({ studyId: study?.id ?? '' })
  const inOrder = [...items].sort((a, b) => a.place - b.place)
  expect(inOrder.map(({ name }) => name)).toEqual(['second.csv', 'first.csv'])
  const [reading] = await app.store.readings.latestOfStudy(study?.id ?? '')
  expect(reading?.recordingIds).toEqual(inOrder.map(({ id }) => id))
  await close()
}, 120_000)
