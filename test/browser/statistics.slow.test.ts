import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Comparison } from '../../src/core/statistics/document.ts'
import type { Plan } from '../../src/core/statistics/plan/document.ts'
import type { PlanGoal } from '../../src/web/plan/asked.ts'
import { ran } from '../cli/fakeIo.ts'
import { good } from '../store/stores.ts'
import { type AppUnderTest, startApp } from './app.ts'

/** What is asked of the statistics in Compare and Plan, against what the server and the command line say of the same. */

let app: AppUnderTest
let studyId = ''
const call = async <T>(method: string, at: string, body?: unknown): Promise<T> => {
  const response = await fetch(new URL(at, app.address), {
    method,
    ...(body === undefined
      ? {}
      : { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }),
  })
  if (!response.ok) throw new Error(await response.text())
  return (await response.json()) as T
}
const compared = (query: string) => call<Comparison>('GET', `/api/studies/${studyId}/comparison?${query}`)

/** Three widths, six of each; all hold a quarter of a newton more for each °C, and 0.06 N more for each mm of width. */
const noise = (v: number, i: number): number => [0.6, -0.4, 0.1, -0.7, 0.5, -0.1][(i + 2 * v) % 6]!
const temperature = (v: number, i: number): number => 20 + ((5 * i + 3 * v) % 12)
const specimens = [10, 20, 30].flatMap((width, v) =>
  Array.from({ length: 6 }, (_, i) => ({
    variant: `${width} mm`,
    name: `tape-${width}-${i + 1}`,
    temperatureC: temperature(v, i),
    valueN: Number((50 + 0.06 * width + 0.25 * temperature(v, i) + noise(v, i)).toFixed(2)),
  })),
)

beforeAll(async () => {
  app = await startApp()
  const study = await call<{ id: string }>('POST', '/api/studies', { name: 'Tape' })
  studyId = study.id
  const steps = specimens.map(({ variant, name, temperatureC, valueN }) => ({
    kind: 'add',
    name,
    variant,
    fields: {
      status: 'pulled',
      temperatureC,
      typedPeak: { value: valueN, unit: 'N', isAtLeast: false, step: null, doubt: null, who: '' },
    },
  }))
  await call('POST', `/api/studies/${studyId}/edits`, { steps, who: '', what: 'typed' })
}, 240_000)
afterAll(() => app?.stop())

const plain = (text: string | null): string => (text ?? '').replaceAll('\u00a0', ' ')
const unfold = (page: Page, name: string) => page.locator('summary', { hasText: RegExp(`^${name}`) }).click()
const opened = async (place: 'compare' | 'plan') => app.open(`/study/${studyId}/${place}`)
const comparing = async () => {
  const watched = await opened('compare')
  const { page } = watched
  await page.locator('.answer-headline').waitFor()
  await unfold(page, 'Every pair')
  await unfold(page, 'Compare something else')
  const says = (text: string) =>
    expect
      .poll(async () => plain(await page.locator('.compare-verdict').textContent()), { timeout: 20_000 })
      .toBe(text)
  return { ...watched, says }
}

test('what a difference is worth: as good as each other where that is shown, and not a word of it before', async () => {
  const [without, worth] = [await compared(''), await compared('worthShare=0.2')]
  expect(without.pairs.some(({ verdict }) => verdict === 'equivalent')).toBe(false)
  expect(worth.pairs.some(({ verdict }) => verdict === 'equivalent')).toBe(true)
  const { page, close, says } = await comparing()
  await says(without.verdict)
  await page.getByLabel('A difference is worth knowing from').fill('20')
  await page.keyboard.press('Enter')
  await says(worth.verdict)
  const cells = await page.locator('table').first().locator('tbody td:last-child').allTextContents()
  const words = { different: 'differ', equivalent: 'as good as each other', undecided: 'not decided' }
  expect(cells).toEqual(worth.pairs.map(({ verdict }) => words[verdict]))
  await page.getByLabel('A difference is worth knowing from').fill('')
  await page.keyboard.press('Enter')
  await says(without.verdict)
  await close()
}, 60_000)

test('what was measured on each is taken out: as kept with the specimens, or as pasted from a sheet', async () => {
  const { verdict, covariate } = await compared('covariate=temperature')
  expect(covariate).toMatchObject({ name: 'temperature', used: true })
  expect(covariate!.slope).toBeCloseTo(0.25, 1)
  expect(verdict).not.toBe((await compared('')).verdict)
  const { page, close, says } = await comparing()
  await page.getByLabel('Take out of the scatter').selectOption({ label: 'the temperature' })
  await says(verdict)
  await page.getByText('Compared as if all had the same temperature').first().waitFor()
  await page.getByLabel('Take out of the scatter').selectOption({ label: 'numbers of my own …' })
  await page.getByText('0 of 18 specimens have a number.').waitFor()
  await page.getByLabel('What was measured on each', { exact: true }).fill('glue mass')
  const rows = specimens.map(({ name, temperatureC }) => `${name}\t${temperatureC}`)
  const numbers = page.getByLabel('A specimen a line')
  await numbers.fill(['specimen\tglue, mg', ...rows.slice(1), 'tape-99-1\t3'].join('\n'))
  await page
    .getByText('17 of 18 specimens have a number. No specimen, or no number, in: tape-99-1 3.')
    .waitFor()
  await page.getByText('glue mass is not taken out: it is not known of every specimen').first().waitFor()
  await numbers.fill(rows.join('\n'))
  await page.getByText('18 of 18 specimens have a number.').waitFor()
  await page.getByText('Compared as if all had the same glue mass').first().waitFor()
  await says(verdict)
  await close()
}, 60_000)

test('a trend over the number in the names: its slope, its interval and its curve', async () => {
  const { factor } = await compared('')
  expect(factor!.unit).toBe('mm')
  const { page, close } = await comparing()
  await unfold(page, 'Over the number in the names')
  const caption = page.locator('.compare-trend')
  await caption.locator('svg').waitFor()
  const text = plain(await caption.textContent())
  expect(Number(/Changes by (\S+) N/.exec(text)![1])).toBeCloseTo(factor!.slope, 2)
  expect(text).toMatch(/for each mm \(95 % interval .* to .*\)\. The band holds the whole curve/)
  expect(await caption.locator('circle').count()).toBe(18)
  await close()
}, 60_000)

test('each goal of Plan asks for what the command line asks for', async () => {
  const own = await call<{ id: string }>('POST', '/api/studies', { name: 'Planned' })
  for (const [i, name] of ['10 mm', '20 mm', '30 mm'].entries())
    good(await app.store.variants.create(own.id, { name, control: i === 0 }))
  const { page, close } = await app.open(`/study/${own.id}/plan`)
  const planOf = async () =>
    good(await app.store.studies.get(own.id)).plan as (Plan & { asked: { goal: PlanGoal } }) | null
  await page.getByLabel('Scatter within a variant, %').fill('8')
  await page.keyboard.press('Enter')
  await page.getByText('The plan is changed.').waitFor()
  const words: Readonly<Record<PlanGoal, readonly string[]>> = {
    difference: ['--difference', '10%'],
    control: ['--difference', '10%', '--against-control'],
    trend: ['--trend', '10%'],
    equivalence: ['--within', '10%'],
    proof: ['--proof', '90'],
  }
  for (const [goal, asked] of Object.entries(words).reverse() as [PlanGoal, readonly string[]][]) {
    await page.getByLabel('To be shown:').selectOption(goal)
    await expect.poll(async () => (await planOf())?.asked.goal, { timeout: 20_000 }).toBe(goal)
    const kept = (await planOf())!
    const { out } = await ran([
      'plan',
      '--variants',
      '10 mm,20 mm,30 mm',
      '--scatter',
      '8%',
      ...asked,
      '--seed',
      String(kept.seed),
      '--json',
    ])
    const told = JSON.parse(out) as Plan
    expect([goal, kept.perGroup, kept.because]).toEqual([goal, told.perGroup, told.because])
    await expect.poll(() => page.locator('.plan-number').textContent()).toBe(String(told.perGroup))
  }
  await close()
}, 120_000)
