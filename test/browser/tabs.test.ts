import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { good } from '../store/stores.ts'
import { type AppUnderTest, startApp } from './app.ts'

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
