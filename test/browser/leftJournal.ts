import { createHash } from 'node:crypto'
import { writeFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { joined, journalHead, jsonFrame, samplesFrame } from '../../src/capture/journal/frames.ts'

/** What a window that recorded for hours left behind in the browser's storage: made here, and laid there. */

export interface MadeJournal {
  readonly sha256: string
  readonly bytes: number
  /** Force of a sample, as the recording must have it. */
  forceN(sample: number): number
}

const ID = '0a1b2c3d-long-journal'

/** A pull each minute, up to 100 N. The device tells the times. Written a block of ten seconds at a time. */
export function makeJournal(path: string, samples: number, rateHz: number): MadeJournal {
  const forceN = (sample: number): number => {
    const phase = (sample / rateHz) % 60
    return (phase < 20 || phase > 40 ? 0 : 5 * (phase - 20)) + 0.01 * ((sample * 7) % 13)
  }
  const header = {
    what: 'header',
    id: ID,
    startedAt: '2026-03-01T06:00:00.000Z',
    startedS: 0,
    about: { study: 'A night', variant: 'reef', specimen: 'reef-1', operator: null },
    plan: {
      specimenId: null,
      startAtN: null,
      keepBeforeS: 0,
      pullsExpected: 1,
      finishAfterRestS: null,
      elements: null,
    },
    source: 'serial port of this browser, USB, 115200 baud',
    engine: 'test',
    pid: 0,
    capacityN: null,
    rig: null,
    rateHz: null,
    tension: null,
  }
  const columns = { what: 'columns', unit: 'N', unitAssumed: false, stamps: { tickS: null }, channels: [] }
  const frames = [journalHead(), jsonFrame(header), jsonFrame(columns)]
  const atOnce = 10 * rateHz
  for (let from = 0; from < samples; from += atOnce) {
    const count = Math.min(atOnce, samples - from)
    const of = (value: (sample: number) => number) =>
      Float64Array.from({ length: count }, (_, i) => value(from + i))
    frames.push(
      samplesFrame({
        arrivedS: (from + count) / rateHz,
        values: of(forceN),
        stampS: of(sample => sample / rateHz),
        sequence: null,
        status: null,
        channels: [],
      }),
    )
  }
  const all = joined(frames)
  writeFileSync(path, all)
  return { sha256: createHash('sha256').update(all).digest('hex'), bytes: all.length, forceN }
}

/** Lays it into the storage of the page's browser as the line's thread would have, in the pieces of so many syncs. */
export async function leaveJournal(page: Page, path: string, pieceBytes = 16_384): Promise<void> {
  await page.evaluate(
    `document.body.append(Object.assign(document.createElement('input'), { type: 'file', id: 'laid' }))`,
  )
  await page.setInputFiles('#laid', path)
  await page.evaluate(`(async () => {
    const asked = request => new Promise((good, bad) => {
      request.onsuccess = () => good(request.result)
      request.onerror = () => bad(request.error)
    })
    // The line's thread makes the storage when the page is opened.
    while (!(await indexedDB.databases()).some(({ name }) => name === 'tenterhook-journals'))
      await new Promise(resolve => setTimeout(resolve, 50))
    const file = document.querySelector('#laid').files[0]
    const path = 'the browser’s storage/${ID}.journal'
    const db = await asked(indexedDB.open('tenterhook-journals'))
    for (let from = 0; from < file.size; ) {
      const bytes = new Uint8Array(await file.slice(from, from + 8388608).arrayBuffer())
      const change = db.transaction(['journals', 'pieces'], 'readwrite')
      for (let at = 0; at < bytes.length; at += ${pieceBytes})
        change.objectStore('pieces').put(bytes.slice(at, at + ${pieceBytes}), [path, from + at])
      change.objectStore('journals').put({ path, touchedMs: 0 })
      await new Promise((good, bad) => { change.oncomplete = good; change.onabort = bad })
      from += bytes.length
    }
    db.close()
  })()`)
}
