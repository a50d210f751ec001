import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openStore, storePlace } from '../../src/store/index.ts'
import { good } from '../store/stores.ts'
import { leaveJournal, makeJournal } from './leftJournal.ts'
import { type PageBench, pageBench } from './pageBench.ts'
import { peakOf } from './pullBench.ts'

/** A recording of hours in the page: made of its journal block by block, kept so, read, and moved to a store. */

const RATE_HZ = 80
/** Over what is held whole: more than seven hours. */
const SAMPLES = 2_050_000

let bench: PageBench
let folder: string
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-long-'))
  bench = await pageBench()
}, 240_000)
afterAll(async () => {
  await bench?.stop()
  rmSync(folder, { recursive: true, force: true })
})

test('a recording of seven hours that a window left behind is kept in blocks, read, and goes to a store the same', async () => {
  const { page } = bench
  const path = join(folder, 'left.journal')
  const made = makeJournal(path, SAMPLES, RATE_HZ)
  await page.locator('.shelf-keeping').waitFor()
  await leaveJournal(page, path)
  await page.reload()
  await page.locator('[data-recovered="1"]').waitFor({ timeout: 120_000 })
  const kept = await page.evaluate(`(async () => {
    const asked = request => new Promise((good, bad) => {
      request.onsuccess = () => good(request.result)
      request.onerror = () => bad(request.error)
    })
    const [main, long, journals] = [
      await asked(indexedDB.open('tenterhook')),
      await asked(indexedDB.open('tenterhook-long')),
      await asked(indexedDB.open('tenterhook-journals')),
    ]
    const [entry] = await asked(main.transaction('recordings').objectStore('recordings').getAll())
    const found = {
      samples: entry.samples, sha256: entry.sha256, state: entry.state, endS: entry.endS,
      whole: await asked(main.transaction('samples').objectStore('samples').count()),
      chunks: await asked(long.transaction('chunks').objectStore('chunks').count()),
      left: await asked(journals.transaction('pieces').objectStore('pieces').count()),
    }
    for (const db of [main, long, journals]) db.close()
    return found
  })()`)
  expect(kept).toEqual({
    samples: SAMPLES,
    sha256: made.sha256,
    state: 'recovered',
    endS: (SAMPLES - 1) / RATE_HZ,
    whole: 0,
    chunks: 2 * Math.ceil(SAMPLES / 65_536),
    left: 0,
  })

  const saved = join(folder, 'all.jsonl.gz')
  const download = page.waitForEvent('download', { timeout: 120_000 })
  await page.locator('.shelf-keeping').getByRole('button', { name: 'Save everything as one file' }).click()
  await (await download).saveAs(saved)
  const store = await openStore(good(storePlace(join(folder, 'store'), {})))
  try {
    good(await store.care.importAll(saved))
    const [entry] = (await store.recordings.list()).items
    expect(entry).toMatchObject({ sha256: made.sha256, samples: SAMPLES })
    const { timeS, forceN } = good(await store.recordings.load(entry?.id ?? ''))
    for (const sample of [0, 1, 65_535, 65_536, 524_288, 1_234_567, SAMPLES - 1]) {
      expect(forceN[sample]).toBe(made.forceN(sample))
      expect(timeS[sample]).toBeCloseTo(sample / RATE_HZ, 9)
    }
  } finally {
    await store.close()
  }

  await page.locator('.shelf-board a').first().click()
  const peak = page.getByRole('button', { name: /^Peak force/ }).first()
  await peak.waitFor({ timeout: 120_000 })
  expect(await peakOf(peak)).toBeGreaterThan(99)
}, 400_000)
