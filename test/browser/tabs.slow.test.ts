import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { good } from '../store/stores.ts'
import { type AppUnderTest, startApp, type WatchedPage } from './app.ts'

/** On a busy machine. */
const SOON = { timeout: 20_000 }

/** Two windows of one browser stay in step; of two edits of one thing the later is told. */

let app: AppUnderTest
let specimenId = ''
beforeAll(async () => {
  app = await startApp({ demo: true })
  const specimens = await app.store.specimens.list(app.demoId)
  specimenId = specimens.find(({ name }) => name === 'hot-melt-2')?.id ?? ''
}, 240_000)
afterAll(() => app?.stop())

const remark = (page: Page) => page.getByLabel('Remark', { exact: true })
const place = () => `/study/${app.demoId}/read/${specimenId}`
const kept = async () => good(await app.store.specimens.get(specimenId))

test('a change in one window shows in the other, and what is being written there stays', async () => {
  const one = await app.open(place())
  const two = await one.page.context().newPage()
  await two.goto(one.page.url())
  await remark(one.page).fill('from the first window')
  await remark(one.page).press('Enter')
  await expect.poll(() => remark(two).inputValue(), SOON).toBe('from the first window')

  // Both write in one field: the later is told what stands there now, and loses nothing.
  await remark(two).fill('from the second window')
  await remark(one.page).fill('once more from the first')
  await remark(one.page).press('Enter')
  await two.getByText('changed elsewhere, to “once more from the first”').waitFor()
  expect(await remark(two).inputValue()).toBe('from the second window')
  await remark(two).press('Enter')
  expect((await kept()).note).toBe('once more from the first')
  await two.getByRole('button', { name: 'Write mine over it' }).click()
  await expect.poll(async () => (await kept()).note, SOON).toBe('from the second window')
  await expect.poll(() => remark(one.page).inputValue(), SOON).toBe('from the second window')

  await remark(two).fill('never mind')
  await remark(one.page).fill('the last word')
  await remark(one.page).press('Enter')
  await two.getByRole('button', { name: 'Show what it is now' }).click()
  expect(await remark(two).inputValue()).toBe('the last word')
  await one.close()
}, 120_000)

test('a window that has not heard of a change is told before it writes over it', async () => {
  const { page, complaints, close } = await app.open(place())
  await remark(page).waitFor()
  // From another computer: no word of it comes to this window.
  good(await app.store.specimens.update(specimenId, { batch: 'another batch' }))
  await remark(page).fill('late')
  await remark(page).press('Enter')
  await page.getByText('it was changed elsewhere after it was opened here').waitFor()
  expect((await kept()).note).toBe('the last word')
  expect(await remark(page).inputValue()).toBe('late')
  await expect.poll(() => page.getByLabel('Batch').inputValue(), SOON).toBe('another batch')
  await page.getByRole('button', { name: 'Write mine over it' }).click()
  await expect.poll(async () => (await kept()).note, SOON).toBe('late')
  expect((await kept()).batch).toBe('another batch')
  // The browser's own word for the answer that was refused.
  expect(complaints.splice(0)).toEqual([expect.stringContaining('409')])
  await close()
}, 120_000)

// What is written straight into the store was written from another computer: no word of it comes to these windows.
const LATER = 'it was changed elsewhere after it was opened here'

/** The later of two edits is told in the page, nothing of it is written, and no fault but the refusal is met. */
async function toldIn(watched: WatchedPage): Promise<void> {
  await watched.page.getByText(LATER).first().waitFor()
  expect(watched.complaints.splice(0)).toEqual([expect.stringContaining('409')])
  await watched.close()
}

test('a variant that was renamed elsewhere is not renamed over', async () => {
  const watched = await app.open(`/study/${app.demoId}/plan`)
  const [first] = await app.store.variants.list(app.demoId)
  const field = watched.page.getByLabel('Name of variant 1')
  await field.waitFor()
  good(await app.store.variants.update(first?.id ?? '', { name: 'glue dots' }))
  await field.fill('blobs')
  await field.press('Enter')
  await toldIn(watched)
  expect((await app.store.variants.list(app.demoId))[0]?.name).toBe('glue dots')
})

test('a rig that was changed elsewhere is not written over', async () => {
  const document = { document: 'tenterhook.rig', version: 1, name: 'tab rig' }
  const rig = good(await app.store.rigs.create({ name: 'tab rig', document }))
  // In the demo its own rig stands on the bench, until another is put there.
  good(await app.store.settings.set('bench', { rigId: rig.id, checkMass: null }))
  const watched = await app.open(`/study/${app.demoId}/rig`)
  const name = watched.page.getByLabel('Name of the rig', { exact: true })
  await expect.poll(() => name.inputValue(), SOON).toBe('tab rig')
  good(await app.store.rigs.update(rig.id, { document: { ...document, note: 'oiled' } }))
  await name.fill('another name')
  await name.press('Enter')
  await toldIn(watched)
  expect(good(await app.store.rigs.get(rig.id))).toMatchObject({
    name: 'tab rig',
    document: { ...document, note: 'oiled' },
  })
})

test('a household mass that another window added is not lost by adding one here', async () => {
  const sugar = { kind: 'weighed', kg: 1.002, scaleErrorKg: 0.001 }
  const kept = async () =>
    Object.keys(((await app.store.settings.get('references')) as { references: object }).references).sort()
  const { page, ...watched } = await app.open(`/study/${app.demoId}/rig`)
  const form = page.getByRole('form', { name: 'A new thing of known mass' })
  await form.waitFor()
  good(await app.store.settings.set('references', { references: { 'bag of sugar': sugar } }))
  await form.getByLabel('Its name').fill('flat iron')
  await form.getByLabel('Mass in kg').fill('2.114')
  await form.getByLabel(/Error of that scale/).fill('2')
  await form.getByRole('button', { name: 'Add it' }).click()
  await page.getByText(LATER).first().waitFor()
  expect(await kept()).toEqual(['bag of sugar'])
  // What is there now is shown, and what was typed can be added to it.
  await page.locator('.rig-masses', { hasText: 'bag of sugar' }).waitFor()
  await form.getByRole('button', { name: 'Add it' }).click()
  await expect.poll(kept, SOON).toEqual(['bag of sugar', 'flat iron'])
  expect(watched.complaints.splice(0)).toEqual([expect.stringContaining('409')])
  await watched.close()
})

test('a study that was changed elsewhere is not renamed over on the shelf, nor are its weights', async () => {
  const studyOf = async () => good(await app.store.studies.get(app.demoId))
  const onShelf = await app.open('/')
  await onShelf.page.getByRole('button', { name: /^Rename/ }).click()
  good(await app.store.studies.update(app.demoId, { question: 'Which holds?' }))
  await onShelf.page.getByLabel(/^New name of/).fill('Handles')
  await onShelf.page.keyboard.press('Enter')
  await toldIn(onShelf)

  const { name, equivalents } = await studyOf()
  const inSettings = await app.open('/settings')
  await inSettings.page.getByLabel('Of which study').selectOption({ label: name })
  good(await app.store.studies.update(app.demoId, { question: 'Which holds best?' }))
  await inSettings.page.getByLabel('One of them').fill('a loaf')
  await inSettings.page.getByLabel('Mass in kg').fill('0,75')
  await inSettings.page.getByRole('button', { name: 'Add it' }).click()
  await inSettings.page.getByText(LATER).waitFor()
  // What was typed is still there to be added once more.
  expect(await inSettings.page.getByLabel('One of them').inputValue()).toBe('a loaf')
  await toldIn(inSettings)
  expect(await studyOf()).toMatchObject({
    question: 'Which holds best?',
    name,
    equivalents: [...equivalents],
  })
})

test('a specimen that was changed elsewhere is not left out over it', async () => {
  const watched = await app.open(`/study/${app.demoId}/compare`)
  await watched.page.getByRole('button', { name: /^hot-melt-2/ }).click()
  await watched.page.getByLabel('Leave out for good, because').fill('a doubt')
  good(await app.store.specimens.update(specimenId, { note: 'kept elsewhere' }))
  await watched.page.getByRole('button', { name: 'Leave out', exact: true }).click()
  await toldIn(watched)
  expect(await kept()).toMatchObject({ status: 'pulled', note: 'kept elsewhere' })
})
