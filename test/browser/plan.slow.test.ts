import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { DEMO } from '../../src/capture/pretend/demoFacts.ts'
import type { Plan } from '../../src/core/statistics/plan/document.ts'
import { ran } from '../cli/fakeIo.ts'
import { good } from '../store/stores.ts'
import { type AppUnderTest, checkEveryLook, keepScreenshot, startApp, unfoldAnswered } from './app.ts'

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp({ demo: true })
}, 240_000)
afterAll(async () => {
  await app?.stop()
})

const number = (page: Page) => page.locator('.plan-number').textContent()
const planOf = async (id: string) => good(await app.store.studies.get(id)).plan as Plan & { asked: unknown }

test('a newcomer plans a study with the keyboard alone: the number and the order are the command line’s', async () => {
  const study = good(await app.store.studies.create({ name: 'Wrapped knots' }))
  const { page, close } = await app.open(`/study/${study.id}/plan`)
  await page.getByRole('status').getByText('Write down the question').waitFor()
  await page.keyboard.press('Tab')
  await page.getByRole('button', { name: 'Write it' }).press('Enter')
  await page.keyboard.type('Which knot holds <b>best</b>?')
  await page.keyboard.press('Enter')
  await page.getByText('The question is changed.').waitFor()
  await page.getByRole('button', { name: 'Name one' }).press('Enter')
  for (const name of ['reef', 'granny', 'surgeon']) {
    await page.keyboard.type(name)
    await page.keyboard.press('Enter')
    await page.getByText(`“${name}” is added.`).waitFor()
  }
  await page.getByLabel('Scatter within a variant, %').fill('7')
  await page.keyboard.press('Enter')
  await page.getByText('The plan is changed.').waitFor()
  await page.getByLabel('How surely it is to be told').selectOption('0.9')
  await page.getByText(/Write the \d+ specimens/).waitFor()
  await expect
    .poll(async () => ((await planOf(study.id)).because.match(/9 times in 10/) ?? []).length)
    .toBe(1)
  const kept = await planOf(study.id)
  const words = [
    '--scatter',
    '7%',
    '--difference',
    '10%',
    '--power',
    '0.9',
    '--seed',
    String(kept.seed),
    '--json',
  ]
  const { out } = await ran(['plan', '--variants', 'reef,granny,surgeon', ...words])
  const { asked: _, ...document } = kept
  expect(rounded(document)).toEqual(rounded(JSON.parse(out)))
  expect(await number(page)).toBe(String(kept.perGroup))
  await page.getByRole('button', { name: 'Write in' }).press('Enter')
  await page.getByText('The plan stands').waitFor()
  const made = await app.store.specimens.list(study.id)
  expect(made.map(({ name }) => name).sort()).toEqual([...kept.order].sort())
  expect(made.every(({ status, variantId }) => status === 'planned' && variantId !== null)).toBe(true)
  await page.getByRole('button', { name: 'Undo' }).press('Enter')
  await page.getByText(/Write the \d+ specimens/).waitFor()
  expect(await app.store.specimens.list(study.id)).toHaveLength(0)
  await close()
}, 240_000)

test('the curve and the number move with a dial; what was typed wrongly is said beside it', async () => {
  const { page, close } = await app.open(`/study/${app.demoId}/plan`)
  await page.locator('.plan-power-figure svg').waitFor()
  const before = await number(page)
  const curve = () => page.locator('.plan-curve').getAttribute('points')
  const shape = await curve()
  const slider = page.getByLabel('Difference to tell', { exact: true })
  await slider.focus()
  await page.keyboard.press('End')
  await expect.poll(() => number(page)).not.toBe(before)
  expect(await curve()).not.toBe(shape)
  await page.getByText('The plan is changed.').waitFor()
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect.poll(() => number(page)).toBe(before)
  await page.getByLabel('Scatter within a variant, %').fill('a lot')
  await page.keyboard.press('Enter')
  await page.getByText('This is not a figure above 0').waitFor()
  expect(await number(page)).toBe(before)
  await page.getByLabel('Scatter within a variant, %').fill('8,5')
  await page.keyboard.press('Enter')
  await page.getByText('The plan is changed.').waitFor()
  expect((await planOf(app.demoId)).scatter.sd).toBe(8.5)
  await close()
})

test('the scatter of earlier pulls counts, and the pulls so far are ticked', async () => {
  const { page, close } = await app.open(`/study/${app.demoId}/plan`)
  await page.getByLabel(/take the scatter of the \d+ pulls so far/).click()
  await page
    .getByText(/values in 3 groups of “Carrier-bag handles/)
    .or(page.getByText('The plan is changed.'))
    .first()
    .waitFor()
  await page.getByText('The scatter is a guess').waitFor({ state: 'detached' })
  const { scatter } = await planOf(app.demoId)
  expect(scatter.from).toBe('records')
  expect(await page.locator('.plan-slot[data-state="pulled"]').count()).toBeGreaterThan(12)
  await close()
})

test('the rig is held against the pulls expected; cautions follow what is pulled', async () => {
  good(
    await app.store.rigs.create({
      name: 'nut rig',
      document: {
        cell: { capacityN: 100 },
        converter: { rateHz: 10 },
        strokeMm: 10,
        drive: { mmPerSecond: 0.5 },
      },
    }),
  )
  // In the demo its own rig stands on the bench, until another is put there.
  const { page, close } = await app.open(`/study/${app.demoId}/plan`)
  await page.getByText(`Checked against “${DEMO.rigName}”.`).waitFor()
  await page.getByRole('link', { name: 'See the rig' }).click()
  await page.locator('summary', { hasText: 'Another rig' }).click()
  await page.getByLabel('Which stands on the bench').selectOption({ label: 'nut rig' })
  await expect.poll(() => page.getByLabel('Name of the rig', { exact: true }).inputValue()).toBe('nut rig')
  await page.goBack()
  await page.getByText('Checked against “nut rig”.').waitFor()
  await page.getByLabel('Extension up to the break, in mm').fill('25')
  await page.keyboard.press('Enter')
  await page.getByText('expect 2 re-grips a specimen').waitFor()
  await page.getByLabel(/stretches far/).click()
  await page.getByText('put a cover over the specimen').waitFor()
  await close()
})

test('a variant is renamed, moved, removed and brought back', async () => {
  const study = good(await app.store.studies.create({ name: 'Two' }))
  for (const name of ['a', 'b']) good(await app.store.variants.create(study.id, { name }))
  const { page, close } = await app.open(`/study/${study.id}/plan`)
  const names = async () => (await app.store.variants.list(study.id)).map(({ name }) => name)
  await page.getByLabel('Name of variant 1').fill('paste')
  await page.keyboard.press('Enter')
  await page.getByText('“a” is now called “paste”.').waitFor()
  await page.getByRole('button', { name: 'Later paste' }).click()
  await page.getByText('“paste” has moved.').waitFor()
  expect(await names()).toEqual(['b', 'paste'])
  await page.getByRole('button', { name: 'Remove b' }).click()
  await page.getByText('variant “b” removed').waitFor()
  expect(await names()).toEqual(['paste'])
  await page.getByRole('button', { name: 'Undo' }).click()
  await page.getByText('Undone').or(page.getByLabel('Name of variant 2')).first().waitFor()
  await page.getByLabel('Name of variant 2').waitFor()
  expect(await names()).toEqual(['b', 'paste'])
  await close()
})

test('prints on one page', async () => {
  const { page, close } = await app.open(`/study/${app.demoId}/plan`)
  await page.locator('.plan-slot').first().waitFor()
  const pdf = await page.pdf({ format: 'A4' })
  expect(pagesOf(pdf)).toBe(1)
  await page.emulateMedia({ media: 'print' })
  await keepScreenshot(page, 'plan-print')
  expect(await page.getByLabel('Name of variant 1').isVisible()).toBe(false)
  expect(await page.locator('.plan-slot').first().isVisible()).toBe(true)
  await close()
})

/** The browser's exponential and the one of this program may differ in the last binary digit. */
const rounded = (document: unknown): unknown =>
  JSON.parse(
    JSON.stringify(document, (_, value) =>
      typeof value === 'number' ? Number(value.toPrecision(12)) : value,
    ),
  )

/** Pages of a PDF as Chromium writes it. */
const pagesOf = (pdf: Buffer): number => pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0

test('holds in every look, and nothing serious is found', async () => {
  await checkEveryLook(app, `/study/${app.demoId}/plan`, 'plan', async page => {
    await page.getByText('How many of each').first().waitFor()
    await unfoldAnswered(page)
    await page.locator('.plan-power-figure svg').waitFor()
    await page.locator('.plan-slot').first().waitFor()
  })
}, 240_000)
