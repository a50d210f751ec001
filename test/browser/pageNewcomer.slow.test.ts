import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type PageBench, pageBench } from './pageBench.ts'
import { atMoment } from './pullBench.ts'
import { converter, SERIAL_STUB } from './serialStub.ts'

/**
 * The newcomer's way through the one HTML file, as docs/page.md tells it: file, practice pull, own line, verdict. What is
 * clicked and pressed is counted, and the docs say the same. The port is a stub of the browser's serial interface, whose
 * own question for a port takes two clicks more.
 */

let bench: PageBench
beforeAll(async () => {
  bench = await pageBench({ script: SERIAL_STUB })
}, 240_000)
afterAll(() => bench?.stop())

/** Counts what a person does. */
function hand(page: Page) {
  const done = { clicks: 0, keys: 0 }
  return {
    done,
    async click(on: Locator): Promise<void> {
      done.clicks++
      await on.click()
    },
    async press(key: string): Promise<void> {
      done.keys++
      await page.keyboard.press(key)
    },
  }
}

const docs = readFileSync(fileURLToPath(new URL('../../docs/page.md', import.meta.url)), 'utf8')

test('from the file to a verdict, with as many clicks and keys as the docs say', async () => {
  const { page } = bench
  const { done, click, press } = hand(page)
  const device = converter(page)
  const seconds: string[] = []
  let markMs = performance.now()
  const step = (name: string): void => {
    seconds.push(`${name} ${((performance.now() - markMs) / 1000).toFixed(1)} s`)
    markMs = performance.now()
  }
  const button = (name: string) => page.getByRole('button', { name, exact: true })
  const addOne = async (variant: string): Promise<void> => {
    // Once open it stays so.
    if (!(await page.locator('.pull-add').isVisible())) await click(page.getByText('Add a specimen'))
    await click(page.locator('.pull-add').getByRole('button', { name: variant }))
    await page.locator('.pull-order li[data-now="true"]').waitFor()
  }
  const pull = async (peakN: number): Promise<void> => {
    await atMoment(page, 'ready')
    await press('Space')
    await atMoment(page, 'armed')
    await device.says(1, () => 0)
    await device.says(peakN / 20, t => 20 * t)
    await device.says(2, () => 0)
    await atMoment(page, 'let-go')
    await press('Space')
    await atMoment(page, 'ended')
    await press('Space')
  }

  // Step 1 is the file itself.
  done.clicks++
  await click(button('New study …'))
  await page.getByLabel('Name').first().fill('Knots')
  await page.locator('.shelf-form textarea').fill('reef\ngranny')
  await click(page.locator('.shelf-form button[type="submit"]'))
  await page.getByLabel('The question of this study').waitFor()
  step('a study')
  await click(page.getByRole('link', { name: /^Pull/ }).first())
  await addOne('reef')
  step('in Pull')
  await click(page.getByLabel('Pretend rig'))
  await click(button('Open the line').last())
  await atMoment(page, 'let-go')
  await press('Space')
  await atMoment(page, 'ended')
  await press('Space')
  step('practice')
  await addOne('reef')
  await click(page.getByLabel('Serial port of this computer'))
  await click(button('Choose the port'))
  done.clicks += 2
  await page.getByText('Chosen: USB 1a86:7523').waitFor()
  await click(button('Open the line').last())
  await device.says(3, () => 0)
  await pull(40)
  step('own line, first pull')
  for (const [variant, peakN] of [
    ['reef', 42],
    ['granny', 70],
    ['granny', 74],
  ] as const) {
    await addOne(variant)
    await pull(peakN)
  }
  step('three more pulls')
  await click(page.getByRole('link', { name: /^Compare/ }).first())
  await page
    .getByText(/Granny holds most|granny holds most/)
    .first()
    .waitFor()
  step('verdict')
  console.log(`${done.clicks} clicks, ${done.keys} keys; ${seconds.join(', ')}`)
  expect(docs).toContain(`${done.clicks} clicks and ${done.keys} presses of a key`)
}, 240_000)
