import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { type Header, journalContents } from '../../src/capture/journal/entries.ts'
import { jsonFrame, samplesFrame } from '../../src/capture/journal/frames.ts'
import { startJournal } from '../../src/capture/journal/writer.ts'
import { memoryFiles } from '../capture/memoryFiles.ts'

/** What reached the recorder this long before the power went must be on the disk. */
const WITHIN_MS = 200

const header: Header = {
  what: 'header',
  id: 'cut',
  startedAt: '2026-01-02T03:04:05.000Z',
  startedS: 0,
  about: { study: null, variant: null, specimen: null, operator: null },
  plan: {
    specimenId: null,
    startAtN: null,
    keepBeforeS: 5,
    pullsExpected: 1,
    finishAfterRestS: null,
    elements: null,
  },
  source: 'test',
  engine: '0',
  pid: 1,
  capacityN: null,
  rig: null,
  rateHz: null,
  tension: null,
}

/**
 * Journals a sample every millisecond until the power goes at `cutMs`; `share` of what was not synced
 * survives.
 */
async function samplesAfterCut(cutMs: number, share: number, syncMs: number) {
  const files = memoryFiles()
  files.syncMs = syncMs
  const journal = startJournal({
    files,
    folder: '/j',
    id: 'cut',
    header: jsonFrame(header),
    onTrouble: problem => {
      throw new Error(problem?.what)
    },
  })
  const arrivedMs: number[] = []
  for (let nowMs = 0; nowMs < cutMs; nowMs++) {
    journal.append(
      samplesFrame({
        arrivedS: nowMs / 1000,
        values: Float64Array.of(nowMs),
        stampS: null,
        sequence: null,
        status: null,
        channels: [],
      }),
    )
    arrivedMs.push(nowMs)
    await vi.advanceTimersByTimeAsync(1)
  }
  files.cutPower(share)
  const contents = journalContents(await files.read('/j/cut.journal'))
  const values = [...(contents?.entries ?? [])].flatMap(entry =>
    entry.what === 'samples' ? [...entry.block.values] : [],
  )
  return { values, due: arrivedMs.filter(ms => ms <= cutMs - WITHIN_MS).length }
}

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

test('power goes at 60 moments, unsynced bytes lost in part and torn: every sample of 200 ms before is there, in order', async () => {
  let dueInAll = 0
  for (let i = 0; i < 60; i++) {
    const cut = { cutMs: 210 + ((i * 97) % 400), share: (i % 6) / 5, syncMs: [1, 5, 20, 50, 80][i % 5]! }
    const { values, due } = await samplesAfterCut(cut.cutMs, cut.share, cut.syncMs)
    expect(values.length, JSON.stringify(cut)).toBeGreaterThanOrEqual(due)
    expect(values, JSON.stringify(cut)).toEqual(values.map((_, k) => k))
    dueInAll += due
  }
  expect(dueInAll).toBeGreaterThan(5_000)
})
