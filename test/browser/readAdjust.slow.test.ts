import { writeFileSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { DEMO, demoRig, makePull } from '../../src/capture/pretend/index.ts'
import type { Adjustment } from '../../src/core/reading/adjustmentDocument.ts'
import type { Reading } from '../../src/core/reading/document.ts'
import { peakWords } from '../../src/core/reading/peakWords.ts'
import { readLog, writeCsv } from '../../src/logs/index.ts'
import { keepReading } from '../../src/server/specimenReading.ts'
import type { StoredReading } from '../../src/store/index.ts'
import { ran } from '../cli/fakeIo.ts'
import { good } from '../store/stores.ts'
import { type AppUnderTest, keepScreenshot, startApp } from './app.ts'

let app: AppUnderTest
let folder = ''
beforeAll(async () => {
  app = await startApp({ demo: true })
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-adjust-'))
}, 240_000)
afterAll(async () => {
  await app?.stop()
  await rm(folder, { recursive: true, force: true })
})

async function idOf(name: string): Promise<string> {
  const found = (await app.store.specimens.list(app.demoId)).find(specimen => specimen.name === name)
  if (!found) throw new Error(`no specimen ${name}`)
  return found.id
}
const placeOf = async (name: string) => `/study/${app.demoId}/read/${await idOf(name)}`

async function newest(name: string): Promise<StoredReading> {
  const [reading] = await app.store.readings.history({ specimenId: await idOf(name) })
  if (!reading) throw new Error(`${name} was not read`)
  return reading
}

/** The specimen as the command line reads it, from its own logs and a file of the adjustments that were kept. */
async function byCommandLine(name: string, adjustments: readonly unknown[]): Promise<Reading> {
  const { items } = await app.store.recordings.list({ specimenId: await idOf(name) })
  const logs: string[] = []
  for (const { id, name: file } of [...items].sort((a, b) => a.place - b.place)) {
    const pieces: Uint8Array[] = []
    for await (const piece of app.store.recordings.log(id)) pieces.push(piece)
    logs.push(join(folder, file))
    writeFileSync(logs.at(-1) ?? '', Buffer.concat(pieces))
  }
  const adjust = join(folder, 'adjust.json')
  writeFileSync(adjust, JSON.stringify({ document: 'tenterhook.adjustments', version: 1, adjustments }))
  const { elements } = (await newest(name)).reading.specimen ?? {}
  const rig = join(folder, 'rig.json')
  writeFileSync(rig, JSON.stringify(demoRig().rig))
  const isOnRig = items.some(({ rigId }) => rigId !== null)
  const words = ['read', '--json', '--specimen', ...(isOnRig ? ['--rig', rig] : []), '--adjust', adjust]
  const read = await ran([...words, ...(elements ? ['--elements', `${elements}`] : []), ...logs])
  expect(read.code, read.err).toBe(0)
  return JSON.parse(read.out) as Reading
}

/** The peak as the screen has it: its figure and its unit are two buttons. */
async function peakShown(page: Page): Promise<string> {
  const parts = await page.locator('.read-result .numeral button').allTextContents()
  return parts.map(part => part.replace('Peak force: ', '').replaceAll('\u00a0', ' ').trim()).join(' ')
}

async function sign(page: Page): Promise<void> {
  await page.getByLabel('Why', { exact: true }).fill('seen on the bench')
  await page.getByLabel('Who', { exact: true }).fill('Ann')
  await page.locator('.read-form').getByRole('button', { name: 'Keep' }).click()
  await page.locator('.foot-line').getByText('Kept:').waitFor()
}

interface Case {
  readonly specimen: string
  readonly button: string
  readonly fields: (reading: Reading) => Record<string, string>
  readonly choice?: string
  /** A figure that must be another afterwards; `null` where no figure may change. */
  readonly changes: ((reading: Reading) => unknown) | null
}

const cases: Record<string, Case> = {
  'a zero taken from a stretch': {
    specimen: 'hot-melt-1',
    button: 'The specimen carried nothing here',
    fields: ({ recording: { endS } }) => ({
      'From, s': `${(endS - 1).toFixed(2)}`,
      'To, s': `${(endS - 0.2).toFixed(2)}`,
    }),
    changes: ({ zeros }) => zeros,
  },
  'readings left out': {
    specimen: 'hot-melt-3',
    button: 'Leave these readings out',
    fields: ({ results: { peakForce } }) => ({
      'From, s': `${((peakForce.atS ?? 0) - 0.4).toFixed(3)}`,
      'To, s': `${((peakForce.atS ?? 0) + 0.1).toFixed(3)}`,
    }),
    changes: ({ results }) => results.peakForce.valueN,
  },
  'a part moved': {
    specimen: 'stitching-3',
    button: 'Move this part to join it',
    fields: ({ pulls }) => ({
      'From, s': `${pulls[2]?.startS}`,
      'To, s': `${pulls[2]?.endS}`,
      'Later by, s': '2.5',
    }),
    changes: null,
  },
  'a pull left out': {
    specimen: 'stitching-1',
    button: 'Leave a pull out',
    fields: ({ pulls }) => ({ 'At, s': `${pulls.at(-1)?.peakS}` }),
    changes: ({ pulls }) => pulls.length,
  },
  'a drop named anew': {
    specimen: 'hot-melt-4',
    button: 'Say what a drop was',
    fields: ({ events }) => ({ 'At, s': `${events.find(e => e.kind === 'partial-break')?.atS}` }),
    choice: 'a slip in the grips',
    changes: ({ results }) => results.partialBreaks,
  },
  'the number of elements': {
    specimen: 'hot-melt-2',
    button: 'Number of elements',
    fields: () => ({ Elements: '16' }),
    changes: ({ events }) => events.map(event => event.elements),
  },
  'the sensitivity': {
    specimen: 'wheat-paste-1',
    button: 'Sensitivity to drops',
    fields: () => ({ Sensitivity: '10' }),
    changes: ({ events }) => events,
  },
}

describe('each adjustment survives a reload and reads as the command line reads it', () => {
  test.each(Object.entries(cases))(
    '%s',
    async (_, { specimen, button, fields, choice, changes }) => {
      const before = await newest(specimen)
      const { page, close } = await app.open(await placeOf(specimen))
      await page.getByRole('button', { name: button, exact: true }).click()
      for (const [label, value] of Object.entries(fields(before.reading)))
        await page.getByLabel(label, { exact: true }).fill(value)
      if (choice) await page.getByLabel('It was', { exact: true }).selectOption({ label: choice })
      await page.locator('.read-changes').getByText('Peak force').waitFor()
      await sign(page)
      const kept = await newest(specimen)
      expect(kept.adjustments).toHaveLength(1)
      await page.reload()
      await page.locator('.read-adjustments li').getByText('seen on the bench — Ann').waitFor()
      const read = await byCommandLine(specimen, kept.adjustments)
      expect(kept.reading.results).toEqual(read.results)
      expect(kept.reading.events).toEqual(read.events)
      expect(kept.reading.zeros).toEqual(read.zeros)
      expect(kept.reading.warnings).toEqual(read.warnings)
      // On the screen the unit stands once, as a button.
      const words = peakWords(read.results.peakForce, 'kgf').replaceAll(' kgf', '')
      expect(await peakShown(page)).toBe(`${words} kgf`)
      if (changes) expect(changes(read)).not.toEqual(changes(before.reading))
      else expect(read.results).toEqual(before.reading.results)
      await close()
    },
    180_000,
  )
})

describe('where two zeros remain possible one press settles it', () => {
  /** A specimen whose record begins at a few newton: held taut, or the cell was never zeroed. */
  async function openOne(name: string): Promise<string> {
    const { recording } = makePull({ kind: 'begun-loaded', seed: 1, setting: { rateHz: 20 } })
    // With its own first line, as a log that is kept already is not kept again.
    const text = [`# ${name}\n`, ...writeCsv(recording, { unit: 'N' })].join('')
    const log = new TextEncoder().encode(text)
    const study = (await app.store.studies.byName(DEMO.title))?.name ?? ''
    const { id } = good(await app.store.specimens.named({ study, variant: null, specimen: name }))
    const asRead = good(readLog(log, `${name}.csv`))
    good(await app.store.recordings.save({ recording: asRead, log, source: 'log', specimenId: id }))
    good(await keepReading(app.store, id, []))
    return `/study/${app.demoId}/read/${id}`
  }
  test.each([
    ['The cell was empty here', 'zero-here', 'the cell was empty here'],
    ['This was a hold', 'hold', 'this was a hold'],
  ])(
    '%s',
    async (button, kind, why) => {
      const name = `taut-${kind}`
      const { page, close } = await app.open(await openOne(name))
      const before = (await newest(name)).reading.results.peakForce
      expect(before.zeroAlternatives).toHaveLength(1)
      const question = page.getByRole('region', { name: 'Which was the empty cell?' })
      await question.getByText(/The peak is .* the record does not settle it/).waitFor()
      await question.getByText(/It stood at/).waitFor()
      await keepScreenshot(page, `read-zero-${kind}`)
      // Nobody has signed yet: the form asks for a name, and for nothing else.
      await question.getByRole('button', { name: button, exact: true }).click()
      if ((await page.getByLabel('Who', { exact: true }).count()) > 0) {
        await page.getByLabel('Who', { exact: true }).fill('Ann')
        await page.locator('.read-form').getByRole('button', { name: 'Keep' }).click()
      }
      await page
        .locator('.foot-line')
        .getByText(/^Kept:/)
        .waitFor()
      const kept = await newest(name)
      expect(kept.adjustments).toMatchObject([{ kind, why, who: 'Ann' }])
      const after = kept.reading.results.peakForce
      expect(after.zeroAlternatives ?? []).toEqual([])
      if (kind === 'zero-here') expect(after.valueN!).toBeLessThan(before.valueN! - 2)
      else expect(after.valueN).toBe(before.valueN)
      const read = await byCommandLine(name, kept.adjustments)
      expect(kept.reading.results).toEqual(read.results)
      await question.waitFor({ state: 'detached' })
      // From now on the name is known: taken back, one press is all, and it tells what it changed.
      await page.locator('.foot-line').getByRole('button', { name: 'Undo' }).click()
      await question.getByRole('button', { name: button, exact: true }).click()
      // With a hold the figure stays, and its interval no longer reaches to the other zero.
      await page
        .locator('.foot-line')
        .getByText(/^Kept: the peak force is now .* it was/)
        .waitFor()
      expect((await newest(name)).adjustments).toMatchObject([{ kind, why, who: 'Ann' }])
      await close()
    },
    120_000,
  )
})

test('what is struck out stays in the list, and can be put back', async () => {
  const { page, close } = await app.open(await placeOf('hot-melt-3'))
  const adjusted = await newest('hot-melt-3')
  const line = page.locator('.read-adjustments li')
  await line.getByRole('button', { name: /^Strike out/ }).click()
  await line.getByRole('button', { name: /^Put back/ }).waitFor()
  // The screen is ahead of the store by a moment.
  await expect.poll(async () => (await newest('hot-melt-3')).adjustments).toEqual([])
  await page.reload()
  await page.locator('.read-adjustments li[data-struck="true"]').waitFor()
  await line.getByRole('button', { name: /^Put back/ }).click()
  await line.getByRole('button', { name: /^Strike out/ }).waitFor()
  await expect.poll(async () => (await newest('hot-melt-3')).adjustments).toEqual(adjusted.adjustments)
  const again = await newest('hot-melt-3')
  expect(again.reading.results).toEqual(adjusted.reading.results)
  // The line at the foot takes it back once more.
  await page.locator('.foot-line').getByRole('button', { name: 'Undo' }).click()
  await page.locator('.read-adjustments li[data-struck="true"]').waitFor()
  await close()
})

test('a stretch is marked by a drag along the selvedge, and its ends by a drag over the plot', async () => {
  const { page, close } = await app.open(await placeOf('hot-melt-5'))
  await page.locator('.read-result .numeral').waitFor()
  /** Drags across a part of the curve, in shares of its width. */
  const drag = async (part: string, from: number, to: number) => {
    const box = await page.locator(part).boundingBox()
    const plot = await page.locator('.curve-pad').boundingBox()
    if (!box || !plot) throw new Error('no curve')
    const y = box.y + box.height / 2
    await page.mouse.move(plot.x + from * plot.width, y)
    await page.mouse.down()
    await page.mouse.move(plot.x + ((from + to) / 2) * plot.width, y, { steps: 4 })
    await page.mouse.move(plot.x + to * plot.width, y, { steps: 4 })
    await page.mouse.up()
  }
  const { startS, endS } = (await newest('hot-melt-5')).reading.recording
  await drag('.selvedge-pad', 0.5, 0.25)
  await page.getByText(/^Marked:/).waitFor()
  await page.getByRole('button', { name: 'The specimen carried nothing here' }).click()
  const value = async (label: string) => Number(await page.getByLabel(label, { exact: true }).inputValue())
  const near = (share: number) => startS + share * (endS - startS)
  expect(Math.abs((await value('From, s')) - near(0.25))).toBeLessThan(0.02 * (endS - startS))
  expect(Math.abs((await value('To, s')) - near(0.5))).toBeLessThan(0.02 * (endS - startS))
  await drag('.curve-pad', 0.7, 0.9)
  expect(Math.abs((await value('From, s')) - near(0.7))).toBeLessThan(0.02 * (endS - startS))
  await page.locator('.read-form').getByRole('button', { name: 'Leave' }).click()
  expect((await newest('hot-melt-5')).adjustments).toEqual([])
  await close()
})

/** Waits until something stays where it is for a few frames. */
async function stillAt(part: Locator): Promise<void> {
  let before = Number.NaN
  await expect
    .poll(
      async () => {
        const x = (await part.boundingBox())?.x ?? Number.NaN
        const stays = x === before
        before = x
        return stays
      },
      { interval: 300, timeout: 10_000 },
    )
    .toBe(true)
}

test('a part is moved on the joined curve by a drag and by keys, and the field follows', async () => {
  const { page, close } = await app.open(await placeOf('stitching-4'))
  const { reading } = await newest('stitching-4')
  const last = reading.pulls.at(-1)
  await page.getByRole('button', { name: 'Move this part to join it', exact: true }).click()
  await page.getByLabel('From, s', { exact: true }).fill(`${last?.startS}`)
  await page.getByLabel('To, s', { exact: true }).fill(`${last?.endS}`)
  await page.getByRole('button', { name: 'Move it on the joined curve' }).click()
  const part = page.getByRole('slider', { name: /^The part that is moved/ })
  await part.waitFor()
  expect(await part.getAttribute('aria-valuetext')).toBe('not moved')
  const field = page.getByLabel('Later by, s', { exact: true })
  const typed = async () => Number((await field.inputValue()) || '0')
  const settled = () =>
    expect
      .poll(() => page.locator('[aria-busy]').first().getAttribute('aria-busy'), { timeout: 10_000 })
      .toBe('false')
  // The joined curve may still be on its way, and with it another width of the view.
  await settled()
  await stillAt(part)
  const box = await part.boundingBox()
  const pad = await page.locator('.curve-pad').boundingBox()
  if (!box || !pad) throw new Error('no part on the screen')
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2]
  await page.mouse.move(x, y)
  await page.mouse.down()
  await page.mouse.move(x - 20, y, { steps: 4 })
  await page.mouse.move(x - 40, y, { steps: 4 })
  await page.mouse.up()
  await expect.poll(typed).toBeLessThan(0)
  const dragged = await typed()
  // It lies where the hand let go, before and after the curve has followed.
  await settled()
  await expect
    .poll(async () => Math.abs(((await part.boundingBox())?.x ?? 0) - (box.x - 40)), { timeout: 10_000 })
    .toBeLessThan(3)
  await part.focus()
  await page.keyboard.press('Shift+ArrowRight')
  await expect.poll(typed).toBeGreaterThan(dragged)
  await keepScreenshot(page, 'read-moved-part')
  await page.keyboard.press('0')
  await expect.poll(typed).toBe(0)
  await part.press('ArrowRight')
  await expect.poll(typed, { timeout: 10_000 }).toBeGreaterThan(0)
  const moved = await typed()
  await sign(page)
  expect((await newest('stitching-4')).adjustments.at(-1)).toMatchObject({ kind: 'shift', byS: moved })
  await close()
}, 120_000)

test('of two windows the later is told, and decides', async () => {
  const name = 'wheat-paste-2'
  const id = await idOf(name)
  const theirs: Adjustment = {
    id: 'theirs',
    who: 'Ben',
    when: '2026-05-04T14:20:00Z',
    why: 'heard',
    kind: 'sensitivity',
    factor: 0.5,
  }
  const { page, complaints, close } = await app.open(await placeOf(name))
  const write = async () => {
    await page.getByRole('button', { name: 'Number of elements', exact: true }).click()
    await page.getByLabel('Elements', { exact: true }).fill('12')
    await page.getByLabel('Why', { exact: true }).fill('counted')
    await page.getByLabel('Who', { exact: true }).fill('Ann')
  }
  await write()
  good(await keepReading(app.store, id, [theirs]))
  await page.locator('.read-form').getByRole('button', { name: 'Keep' }).click()
  const trouble = page.locator('.trouble')
  await trouble.waitFor()
  expect((await newest(name)).adjustments).toEqual([theirs])
  await trouble.getByRole('button', { name: 'Write mine over it' }).click()
  await page.locator('.foot-line').getByText('Kept:').waitFor()
  expect((await newest(name)).adjustments).toMatchObject([{ kind: 'elements', count: 12, who: 'Ann' }])
  // A refused request is what the browser complains of by itself.
  expect(complaints.splice(0).every(text => text.includes('409'))).toBe(true)
  await close()
})

test('a correction that is being written outlives a reload, until it is kept or left', async () => {
  const { page, close } = await app.open(await placeOf('stitching-2'))
  const form = page.locator('.read-form')
  const marked = () => form.locator('.needed').count()
  await page.getByRole('button', { name: 'The specimen carried nothing here', exact: true }).click()
  await page.getByLabel('From, s', { exact: true }).fill('0')
  await page.getByLabel('To, s', { exact: true }).fill('1,5')
  await page.getByLabel('Why', { exact: true }).fill('hung fr')
  expect(await marked()).toBe(4)
  await page.reload()
  await form.waitFor()
  expect(await page.getByLabel('To, s', { exact: true }).inputValue()).toBe('1,5')
  expect(await page.getByLabel('Why', { exact: true }).inputValue()).toBe('hung fr')
  await form.getByRole('button', { name: 'Leave', exact: true }).click()
  await page.reload()
  await page.locator('.read-result').waitFor()
  expect(await form.count()).toBe(0)
  await close()
}, 60_000)
