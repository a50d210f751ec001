import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { keepReading } from '../../src/server/specimenReading.ts'
import { pretendRecording } from '../store/pretendRecording.ts'
import { good } from '../store/stores.ts'
import { type AppUnderTest, checkEveryLook, startApp } from './app.ts'

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp({ demo: true })
}, 240_000)
afterAll(() => app?.stop())

/** A pull of so many newton, at 20 a second, in the unit of its log. */
const pullOf = (topN: number): number[] =>
  Array.from({ length: 300 }, (_, i) =>
    i < 60 || i >= 240 ? ((i * 7919) % 13) / 1000 : ((i - 60) / 180) * topN + ((i * 7919) % 13) / 1000,
  )

/** No two studies of this file have the same log: one log is kept once. */
let made = 0

/** A study of logs, some of them without a variant. */
async function studyOf(name: string, logs: readonly (readonly [string, string | null, number])[]) {
  for (const [specimen, variant, topN] of logs) {
    const { id } = good(await app.store.specimens.named({ study: name, variant, specimen }))
    good(
      await app.store.recordings.save({
        ...pretendRecording(`${name}-${specimen}.csv`, pullOf(topN + ++made / 100)),
        source: 'log',
        specimenId: id,
      }),
    )
    good(await keepReading(app.store, id))
  }
  return (await app.store.studies.byName(name))!.id
}
const variantsOf = async (studyId: string) => {
  const variants = await app.store.variants.list(studyId)
  return Object.fromEntries(
    (await app.store.specimens.list(studyId)).map(one => [
      one.name,
      variants.find(({ id }) => id === one.variantId)?.name ?? null,
    ]),
  )
}
const unfolded = (page: Page) => page.getByText('Edit the specimens').click()
const cell = (page: Page, name: string, column: string) =>
  page
    .getByRole('textbox', { name: `${column} of ${name}` })
    .or(page.getByLabel(`${column} of ${name}`, { exact: true }))
    .first()
/** What a spreadsheet puts on the clipboard, into the cell that has the focus. */
const paste = (page: Page, text: string) =>
  page.evaluate(`(() => {
    const data = new DataTransfer()
    data.setData('text/plain', ${JSON.stringify(text)})
    document.activeElement.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }))
  })()`)

test('the table is sound in every look', async () => {
  await checkEveryLook(app, `/study/${app.demoId}/plan`, 'specimens-table', async page => {
    await unfolded(page)
    await cell(page, 'hot-melt-2', 'Width, mm').waitFor()
    await page.getByLabel('Choose hot-melt-2', { exact: true }).check()
    await page.locator('.specimens').scrollIntoViewIfNeeded()
  })
}, 240_000)

test('a forgotten variant is the next step in Compare, and is assigned to many at once', async () => {
  const id = await studyOf('Forgotten', [
    ['a1', 'a', 50],
    ['a2', 'a', 52],
    ['b1', null, 80],
    ['b2', null, 83],
  ])
  const { page, close } = await app.open(`/study/${id}/compare`)
  await page.getByRole('button', { name: 'Assign them' }).click()
  await page.getByLabel('Choose b1', { exact: true }).check()
  await page.getByLabel('Choose b2', { exact: true }).check()
  await page.getByLabel('To variant').fill('b')
  await page.keyboard.press('Enter')
  await page.getByText('“b1”, “b2” to “b”.').waitFor()
  expect(await variantsOf(id)).toEqual({ a1: 'a', a2: 'a', b1: 'b', b2: 'b' })
  await page.getByRole('button', { name: 'Assign them' }).waitFor({ state: 'detached' })
  // The list of changes outlives the page.
  await page.reload()
  await unfolded(page)
  await page.getByText('What was changed (1)').click()
  await page.getByRole('button', { name: /^Take back: “b1”, “b2” to “b”/ }).click()
  await page.getByRole('button', { name: /^Do again/ }).waitFor()
  expect(await variantsOf(id)).toEqual({ a1: 'a', a2: 'a', b1: null, b2: null })
  await close()
}, 60_000)

test('a rig that is described after ten logs were taken in is given to all of them', async () => {
  const names = Array.from({ length: 10 }, (_, k) => `c${k + 1}`)
  const id = await studyOf(
    'Late rig',
    names.map((name, k) => [name, k < 5 ? 'a' : 'b', 40 + k] as const),
  )
  const { page, close } = await app.open(`/study/${id}/read`)
  let clicks = 0
  const click = async (what: ReturnType<Page['getByText']>) => {
    clicks++
    await what.click()
  }
  const began = Date.now()
  await click(page.getByRole('navigation').getByRole('link', { name: 'Rig' }))
  await page.locator('.rig-name').fill('Winch in the shed')
  await click(page.getByRole('button', { name: 'Make it', exact: true }))
  await page
    .getByRole('textbox', { name: 'Name of the rig' })
    .or(page.locator('.rig-heading'))
    .first()
    .waitFor()
  await click(page.getByRole('navigation').getByRole('link', { name: 'Read' }))
  await click(page.getByText('Edit the specimens', { exact: true }))
  await click(page.getByText('On which rig they were recorded'))
  const rigs = page.locator('.specimens-rig select').first()
  await rigs.selectOption({ label: 'Winch in the shed' })
  clicks++
  await click(page.getByRole('button', { name: /^Read anew with it/ }))
  const winch = async () => {
    const all = await app.store.recordings.list({ studyId: id })
    const rig = (await app.store.rigs.list()).find(one => one.name === 'Winch in the shed')
    return all.items.filter(one => rig !== undefined && one.rigId === rig.id).length
  }
  await expect.poll(winch, { timeout: 20_000 }).toBe(10)
  console.log(`${clicks} clicks, ${((Date.now() - began) / 1000).toFixed(1)} s`)
  expect(clicks).toBeLessThanOrEqual(9)
  await close()
}, 90_000)

test('cells are typed, filled down and pasted; what cannot stand there changes nothing', async () => {
  const id = await studyOf('Cells', [
    ['a1', 'a', 50],
    ['a2', 'a', 52],
    ['a3', 'a', 53],
  ])
  const { page, close } = await app.open(`/study/${id}/read`)
  await unfolded(page)
  const widths = async () => (await app.store.specimens.list(id)).map(({ widthMm }) => widthMm)
  await cell(page, 'a1', 'Width, mm').fill('12,5')
  await page.keyboard.press('Control+d')
  await expect.poll(widths).toEqual([12.5, 12.5, 12.5])
  await cell(page, 'a2', 'Width, mm').focus()
  await paste(page, '13\t0,4\n14\tthick\n')
  await page.getByText('“thick” is not a number above 0').waitFor()
  expect(await widths()).toEqual([12.5, 12.5, 12.5])
  await paste(page, '13\t0,4\n14\t0,5\n')
  await expect.poll(widths).toEqual([12.5, 13, 14])
  // Peaks of a scale, with headings, on the new row.
  await cell(page, 'new specimen', 'Specimen').focus()
  await paste(
    page,
    'Specimen\tVariant\tPeak, kgf\tScale step, kgf\nt1\ttape\t5,12\t0,02\nt2\ttape\t>6\t0,02\n',
  )
  await cell(page, 't2', 'Peak').waitFor()
  const readings = await app.store.readings.latestOfStudy(id)
  const peaks = Object.fromEntries(
    readings.map(({ reading }) => [reading.specimen?.name, reading.results.peakForce]),
  )
  expect(peaks.t1).toMatchObject({ status: 'measured' })
  expect(peaks.t1?.valueN).toBeCloseTo(5.12 * 9.80665, 9)
  expect(peaks.t2).toMatchObject({ status: 'at-least' })
  // Typed anew, and taken back.
  await cell(page, 't1', 'Peak').fill('5.2')
  await page.keyboard.press('Enter')
  const peakNow = async () => {
    const [t1] = (await app.store.specimens.list(id)).filter(({ name }) => name === 't1')
    return (await app.store.readings.history({ specimenId: t1!.id }))[0]?.reading.results.peakForce.valueN
  }
  await expect.poll(peakNow).toBeCloseTo(5.2 * 9.80665, 9)
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect.poll(peakNow).toBeCloseTo(5.12 * 9.80665, 9)
  await close()
}, 60_000)

test('specimens are made one, parted, removed and brought back', async () => {
  const id = await studyOf('Rows', [
    ['a1', 'a', 50],
    ['a2', 'a', 52],
    ['a3', 'a', 53],
  ])
  const { page, close } = await app.open(`/study/${id}/plan`)
  await unfolded(page)
  const names = async () => (await app.store.specimens.list(id)).map(({ name }) => name)
  await page.getByLabel('Choose a1', { exact: true }).check()
  await page.getByLabel('Choose a2', { exact: true }).check()
  await page.getByRole('button', { name: 'Make one' }).click()
  await expect.poll(names).toEqual(['a1', 'a3'])
  await page.getByText('“a1”, “a2” made one.').waitFor()
  await page.getByLabel('Choose a1', { exact: true }).check()
  await page.getByRole('button', { name: 'Later: Rows-a1.csv' }).click()
  await page.getByRole('button', { name: 'Make it a specimen of its own: Rows-a1.csv' }).click()
  await expect.poll(names).toEqual(['a1', 'a3', 'a1 b'])
  await page.getByLabel('Choose a3', { exact: true }).check()
  await page.getByRole('button', { name: 'Remove', exact: true }).click()
  await page.getByRole('button', { name: 'Bring back: a3' }).click()
  await page.getByLabel('Choose a3', { exact: true }).waitFor()
  await close()
}, 60_000)

test('Plan asks what becomes of the specimens of a variant that is removed', async () => {
  const id = await studyOf('Variants', [
    ['a1', 'a', 50],
    ['b1', 'b', 52],
  ])
  const { page, close } = await app.open(`/study/${id}/plan`)
  await page.getByRole('button', { name: 'Remove b' }).click()
  await page.getByLabel('What becomes of the specimen of “b”?').selectOption({ label: 'to “a”' })
  await page.getByRole('button', { name: 'Remove “b”' }).click()
  await page.getByText('variant “b” removed, 1 specimen to “a”.').waitFor()
  expect(await variantsOf(id)).toEqual({ a1: 'a', b1: 'a' })
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect.poll(() => variantsOf(id)).toEqual({ a1: 'a', b1: 'b' })
  await close()
}, 60_000)
