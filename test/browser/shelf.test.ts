import { afterAll, beforeAll, expect, test } from 'vitest'
import { CARE } from '../../src/publish/care.ts'
import { good } from '../store/stores.ts'
import { type AppUnderTest, checkEveryLook, startApp } from './app.ts'

let app: AppUnderTest
beforeAll(async () => {
  app = await startApp({ demo: true })
  good(
    await app.store.studies.create({
      name: '<img src=x onerror=alert(1)> & "quotes"',
      question: '</p><script>document.title="taken"</script>',
    }),
  )
}, 240_000)
afterAll(() => app?.stop())

test('the shelf shows question and verdict of a study, hostile names as text, and the cautions', async () => {
  await checkEveryLook(app, '/', 'shelf', async page => {
    await page.getByText('Which of three ways').waitFor()
    await page.locator('.spine-verdict', { hasNotText: 'being counted' }).waitFor()
    await page.getByText('<img src=x onerror=alert(1)>').first().waitFor()
    await page.getByText('</p><script>document.title="taken"</script>').waitFor()
    await page.getByText(CARE[0] ?? '').waitFor()
    expect(await page.title()).not.toContain('taken')
  })
}, 180_000)

test('a search finds studies by their question and recordings by their name', async () => {
  const { page, close } = await app.open()
  await page.getByLabel('Search in studies').fill('twisted paper')
  await expect.poll(() => page.locator('.spine').count()).toBe(1)
  await page.getByLabel('Search in studies').fill('stitching-3')
  await page.getByText('No study has').waitFor()
  await page.getByRole('link', { name: 'stitching-3.csv' }).click()
  await expect.poll(() => page.url()).toMatch(/#\/study\/[^/]+\/read\/[^/]+$/)
  await close()
})

test('by keyboard alone: rename, archive and take it back, and a new study that opens at Plan', async () => {
  const { page, close } = await app.open()
  const own = page.locator('.spine', { hasText: 'Carrier-bag' })
  await own.getByRole('button', { name: 'Rename' }).focus()
  await page.keyboard.press('Enter')
  await page.keyboard.press('ControlOrMeta+A')
  await page.keyboard.type('Handles, told anew')
  await page.keyboard.press('Enter')
  await page.getByText('is now called “Handles, told anew”').waitFor()
  await page.keyboard.press('ControlOrMeta+Z')
  await page.getByRole('link', { name: 'Carrier-bag handles' }).waitFor()

  await own.getByRole('button', { name: 'Archive' }).focus()
  await page.keyboard.press('Enter')
  await page.getByText('is in the archive').waitFor()
  await page.getByText('Archive: 1 study').waitFor()
  expect(await page.getByRole('list', { name: 'Studies', exact: true }).locator('.spine').count()).toBe(1)
  await page.getByRole('button', { name: 'Undo' }).focus()
  await page.keyboard.press('Enter')
  await expect
    .poll(() => page.getByRole('list', { name: 'Studies', exact: true }).locator('.spine').count())
    .toBe(2)

  await page.getByRole('button', { name: 'New study' }).focus()
  await page.keyboard.press('Enter')
  await page.keyboard.type('Cords')
  await page.keyboard.press('Tab')
  await page.keyboard.type('Which cord?')
  await page.keyboard.press('Tab')
  await page.keyboard.type('hemp\nsisal\nhemp')
  await page.keyboard.press('Tab')
  await page.keyboard.press('Enter')
  await expect.poll(() => page.url()).toMatch(/#\/study\/[^/]+\/plan$/)
  const made = await app.store.studies.byName('Cords')
  expect(made?.question).toBe('Which cord?')
  expect((await app.store.variants.list(made?.id ?? '')).map(({ name }) => name)).toEqual(['hemp', 'sisal'])
  await close()
})
