import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { keepReading } from '../../src/server/specimenReading.ts'
import { RIG_OF_EDITS } from '../store/anyEdits.ts'
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

/** A study of logs, some of them without a variant; `days`: on which they were begun. */
async function studyOf(
  name: string,
  logs: readonly (readonly [string, string | null, number])[],
  days: readonly string[] = [],
) {
  for (const [i, [specimen, variant, topN]] of logs.entries()) {
    const day = days[i]
    const { id } = good(await app.store.specimens.named({ study: name, variant, specimen }))
    good(
      await app.store.recordings.save({
        ...pretendRecording(`${name}-${specimen}.csv`, pullOf(topN + ++made / 100)),
        source: 'log',
        specimenId: id,
        ...(day !== undefined && { startedAt: `${day}T10:00:00.000Z` }),
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

/** The clicks of a task, and the seconds that it takes: told, and only the clicks are judged. */
function counted() {
  let clicks = 0
  const began = Date.now()
  return {
    async click(what: ReturnType<Page['getByText']>): Promise<void> {
      clicks++
      await what.click()
    },
    done(task: string): number {
      console.log(`${task}: ${clicks} clicks, ${((Date.now() - began) / 1000).toFixed(1)} s`)
      return clicks
    },
  }
}

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
  const way = counted()
  await way.click(page.getByRole('button', { name: 'Assign them' }))
  await way.click(page.getByLabel('Choose b1', { exact: true }))
  await way.click(page.getByLabel('Choose b2', { exact: true }))
  await way.click(page.getByLabel('To variant'))
  await page.keyboard.type('b')
  await page.keyboard.press('Enter')
  await page.getByText('“b1”, “b2” to “b”.').waitFor()
  expect(way.done('a forgotten variant')).toBeLessThanOrEqual(4)
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
  const way = counted()
  const { click } = way
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
  await click(rigs)
  await rigs.selectOption({ label: 'Winch in the shed' })
  await click(page.getByRole('button', { name: /^Read anew with it/ }))
  const winch = async () => {
    const all = await app.store.recordings.list({ studyId: id })
    const rig = (await app.store.rigs.list()).find(one => one.name === 'Winch in the shed')
    return all.items.filter(one => rig !== undefined && one.rigId === rig.id).length
  }
  await expect.poll(winch, { timeout: 20_000 }).toBe(10)
  expect(way.done('a rig described late')).toBeLessThanOrEqual(9)
  await close()
}, 90_000)

/** A rig with two calibrations in newton, the later one of a scale that reads 3 % low. */
const TWO_CALIBRATIONS = (name: string) => ({
  ...RIG_OF_EDITS,
  name,
  calibrations: [
    RIG_OF_EDITS.calibrations[0],
    { ...RIG_OF_EDITS.calibrations[0], date: '2026-06-01', newtonPerReading: 1.03 },
  ],
})

test('the calibration that recordings count by is chosen for one, for many and for a range of days, with every figure before and after', async () => {
  const days = ['2026-05-10', '2026-05-20', '2026-06-10']
  const id = await studyOf(
    'Calibrations',
    days.map((_, k) => [`k${k + 1}`, 'a', 40 + 10 * k] as const),
    days,
  )
  good(await app.store.rigs.create({ name: 'Two scales', document: TWO_CALIBRATIONS('Two scales') }))
  const countsBy = async () => {
    const { items } = await app.store.recordings.list({ studyId: id })
    return items
      .map(one => [
        one.specimen!.name,
        one.rigId === null ? 'none' : (one.calibration?.slice(0, 10) ?? 'day'),
      ])
      .sort()
      .map(([, by]) => by)
  }
  const peaks = async () =>
    Object.fromEntries(
      (await app.store.readings.latestOfStudy(id)).map(({ reading }) => [
        reading.specimen!.name,
        reading.results.peakForce.valueN!,
      ]),
    )
  const bare = await peaks()
  const { page, close } = await app.open(`/study/${id}/read`)
  await unfolded(page)
  await page.getByText('On which rig they were recorded').click()
  const rig = page.locator('.specimens-rig').getByLabel('Recorded on the rig', { exact: true })
  const calibration = page.locator('.specimens-rig').getByLabel('Calibration', { exact: true })
  const readAnew = (of: string) => page.getByRole('button', { name: `Read anew with it: ${of}`, exact: true })
  const changed = page.getByRole('region', { name: 'What changed by it' })

  // Many: all of them, each by the calibration of its day.
  await rig.selectOption({ label: 'Two scales' })
  await readAnew('3 recordings').click()
  await expect.poll(countsBy).toEqual(['day', 'day', 'day'])
  await expect.poll(() => changed.getByRole('listitem').count()).toBe(3)
  const byDay = await peaks()
  for (const [name, factor] of Object.entries({ k1: 1.01, k2: 1.01, k3: 1.03 }))
    expect(byDay[name]! / bare[name]!).toBeCloseTo(factor, 3)

  // One: the chosen specimen alone, by the later calibration; the figure before and after is told.
  await page.getByLabel('Choose k1', { exact: true }).check()
  await calibration.selectOption({ label: 'scale with a typed doubt of 2026-06-01, in N' })
  await readAnew('one recording').click()
  await expect.poll(countsBy).toEqual(['2026-06-01', 'day', 'day'])
  await expect.poll(() => changed.getByRole('listitem').allTextContents()).toHaveLength(1)
  const [told] = await changed.getByRole('listitem').allTextContents()
  const k1 = await peaks()
  expect(k1.k1! / bare.k1!).toBeCloseTo(1.03, 3)
  for (const figure of [byDay.k1!, k1.k1!]) expect(told).toContain(figure.toFixed(1))

  // Several: nothing is chosen for the person, and nothing is kept before they choose.
  await page.getByLabel('Choose k1', { exact: true }).uncheck()
  await page.reload()
  await unfolded(page)
  await page.getByText('On which rig they were recorded').click()
  await calibration.getByText('several: choose one').waitFor({ state: 'attached' })
  expect(await readAnew('3 recordings').isDisabled()).toBe(true)

  // A range of days.
  await page.getByLabel('Begun on this day or later').fill('2026-05-15')
  await page.getByLabel('Begun on this day or before').fill('2026-06-30')
  await calibration.selectOption({ label: 'scale with a typed doubt of 2026-05-01, in N' })
  await readAnew('2 recordings').click()
  await expect.poll(countsBy).toEqual(['2026-06-01', '2026-05-01', '2026-05-01'])
  // They are read anew once it is kept.
  await expect.poll(async () => (await peaks()).k3! / bare.k3!).toBeCloseTo(1.01, 3)
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect.poll(countsBy).toEqual(['2026-06-01', 'day', 'day'])
  await expect.poll(peaks).toEqual(k1)
  await close()
}, 90_000)

test('a variant is renamed where it stands in Plan, and its specimens with it', async () => {
  const id = await studyOf('Renamed', [
    ['a1', 'past', 50],
    ['a2', 'past', 52],
    ['b1', 'stitch', 60],
  ])
  const { page, close } = await app.open(`/study/${id}/plan`)
  const name = page.getByRole('textbox', { name: 'Name of variant 1' })
  const way = counted()
  await way.click(name)
  await name.fill('paste')
  await page.keyboard.press('Enter')
  await expect.poll(() => variantsOf(id)).toEqual({ a1: 'paste', a2: 'paste', b1: 'stitch' })
  expect(way.done('a renamed variant')).toBe(1)
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect.poll(() => variantsOf(id)).toEqual({ a1: 'past', a2: 'past', b1: 'stitch' })
  await close()
}, 60_000)

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
