import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import type { Truth } from '../../../src/capture/pretend/index.ts'
import { readingSchema } from '../../../src/core/reading/document.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import type { Recording } from '../../../src/core/recording.ts'
import { N_PER } from '../../../src/core/units/force.ts'
import { scoreOne } from './harness/score.ts'
import { summarise } from './harness/summary.ts'

/** The open records (test/records/README.md), judged as `samples/score.mjs` of the shared material judges them. */
const folder = new URL('../../records/', import.meta.url)
const text = (file: string): string => readFileSync(new URL(file, folder), 'utf8').trim()

function record(file: string): Recording {
  const rows = text(file)
    .split('\n')
    .slice(1)
    .map(line => line.split(',').map(Number))
    .filter(cells => cells.length === 2)
  return {
    name: file,
    sha256: '',
    timeS: Float64Array.from(rows, cells => cells[0]!),
    forceN: Float64Array.from(rows, cells => cells[1]! * N_PER.kgf),
    forceUnit: 'kgf',
    timeFrom: 'column',
    segments: [{ from: 0, to: rows.length, began: 'start', name: file, sha256: '', shiftS: 0 }],
    channels: [],
    notes: [],
    assumptions: [],
    understood: '',
  }
}

const elements = new Map(
  text('specimens.csv')
    .split('\n')
    .slice(1)
    .map(line => line.split(',') as [string, string]),
)
const truths = text('truth.jsonl')
  .split('\n')
  .map(line => JSON.parse(line) as Truth)
  // The open records leave out what a single event does not need.
  .map(truth => ({
    ...truth,
    events: truth.events.map(e => ({ ...e, lastT: e.lastT ?? e.t, chain: e.chain ?? false })),
  }))
const readings = truths.map(t => readRecording(record(t.file), { elements: Number(elements.get(t.file)) }))
const scores = truths.map((t, k) => scoreOne(readings[k]!, t))
const all = summarise(scores)

describe('the open records', () => {
  test('every reading is a whole document', () => {
    for (const reading of readings) expect(readingSchema.safeParse(reading).error).toBeUndefined()
  })
  test('pulls, events and kinds are right', () => {
    expect(all.pullsRight).toBe(1)
    // A record that stops just after a break, with a zero that was never seen: what is left looks like nothing.
    expect(all.endsRight).toBeGreaterThanOrEqual(0.96)
    expect(all.eventF1).toBeGreaterThanOrEqual(0.97)
    expect(all.kindRight).toBeGreaterThanOrEqual(0.97)
  })
  test('peaks are right, and their intervals hold them without being wide', () => {
    expect(all.peakErrorMedian).toBeLessThanOrEqual(0.003)
    // In one of 18 the force went on growing unseen after a hold; no more is stated than the readings show.
    expect(all.peakErrorP95Fast).toBeLessThanOrEqual(0.015)
    expect(all.peakErrorP95Slow).toBeLessThanOrEqual(0.06)
    // 22 peaks: three missed where 95 in 100 are held is one case in ten; families.slow.test.ts asks it of hundreds.
    expect(all.peakCovered).toBeGreaterThanOrEqual(0.86)
    expect(all.peakWidthMedian).toBeLessThanOrEqual(0.012)
  })
  test('elements are counted', () => {
    expect(all.elementsIn).toBeGreaterThanOrEqual(0.9)
    expect(all.elementsGiven).toBeGreaterThanOrEqual(0.9)
    expect(all.elementsWidth).toBeLessThanOrEqual(2)
  })
  test('faults are named and nothing is alarmed at without cause', () => {
    expect(all.falseAlarms).toBeLessThanOrEqual(0.05)
    expect(all.saysClipped).toBe(1)
    expect(all.saysZeroUnknown).toBe(1)
    expect(all.spikesSaid).toBe(1)
    expect(all.gapsSaid).toBe(1)
    expect(all.rezeroSaid).toBe(1)
  })
})
