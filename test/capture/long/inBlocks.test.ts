import fc from 'fast-check'
import { expect, test } from 'vitest'
import { assemble } from '../../../src/capture/assemble.ts'
import {
  type Columns,
  type Header,
  type JournalEntry,
  journalContents,
} from '../../../src/capture/journal/entries.ts'
import { joined, journalHead, jsonFrame, samplesFrame } from '../../../src/capture/journal/frames.ts'
import { blockMaker } from '../../../src/capture/long/blockMaker.ts'
import { openLongJournal } from '../../../src/capture/long/inBlocks.ts'
import { columnSurvey, forceSurvey } from '../../../src/capture/long/survey.ts'
import type { BlockOfSamples } from '../../../src/core/recording.ts'

const HEADER: Header = {
  what: 'header',
  id: 'a',
  startedAt: '2026-06-01T08:00:00.000Z',
  startedS: 0,
  about: { study: null, variant: null, specimen: null, operator: null },
  plan: {
    specimenId: null,
    startAtN: null,
    keepBeforeS: 0,
    pullsExpected: 1,
    finishAfterRestS: null,
    elements: null,
  },
  source: 'line',
  engine: '0',
  pid: 1,
  capacityN: null,
  rig: null,
  rateHz: null,
  tension: null,
}
const COLUMNS: Columns = {
  what: 'columns',
  unit: 'kgf',
  unitAssumed: false,
  stamps: null,
  channels: [{ name: 'travel', kind: 'travel', unit: 'mm' }],
}
const PERIOD_S = 0.0125

/** A seeded line: lumps, losses, late and repeated samples, resets, a wrap-round, taps. */
function lineOf(seed: number, stamps: Columns['stamps']): JournalEntry[] {
  let state = seed >>> 0
  const random = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    return state / 2 ** 32
  }
  const entries: JournalEntry[] = [{ ...COLUMNS, stamps }]
  let sequence = Math.floor(random() * 65_536)
  // Near the end of a counter of 32 bits in milliseconds.
  let stampS = 4_294_967.296 - 30 * random()
  let nowS = 10
  let sign = 1
  for (let sent = 0; sent < 4_000; ) {
    if (random() < 0.002) entries.push({ what: 'remark', kind: 'turn', atS: nowS, text: 'tap', count: 1 })
    if (random() < 0.0005) {
      entries.push({ what: 'remark', kind: 'device-reset', atS: nowS, text: 'reset', count: 1 })
      sequence = 0
      stampS = 0
      nowS += 3
    }
    const count = 1 + Math.floor(4 * random())
    const numbers = Array.from(
      { length: count },
      () => (sequence = (sequence + (random() < 0.01 ? 2 : 1)) % 65_536),
    )
    const own = numbers.map((_, i) => {
      const s = stampS + i * PERIOD_S
      return Math.round((s >= 4_294_967.296 ? s - 4_294_967.296 : s) * 1e3) / 1e3
    })
    if (count > 2 && random() < 0.05) {
      numbers.reverse()
      own.reverse()
    }
    if (random() < 0.02) {
      numbers.push(numbers[0]!)
      own.push(own[0]!)
    }
    stampS = (stampS + count * PERIOD_S) % 4_294_967.296
    nowS += count * PERIOD_S
    if (random() < 0.001) sign = -sign
    entries.push({
      what: 'samples',
      block: {
        arrivedS: nowS + 0.01 * random(),
        values: Float64Array.from(numbers, () => -Math.round(1e4 * random() * sign) / 100),
        stampS: stamps === null ? null : Float64Array.from(own),
        sequence: Uint32Array.from(numbers),
        status: null,
        channels: [Float64Array.from(numbers, n => n / 10)],
      },
    })
    sent += count
  }
  entries.push({ what: 'end', how: 'finished', atS: nowS, reason: null })
  return entries
}

const bytesOf = (header: Header, entries: readonly JournalEntry[]): Uint8Array =>
  joined([
    journalHead(),
    jsonFrame(header),
    ...entries.map(entry => (entry.what === 'samples' ? samplesFrame(entry.block) : jsonFrame(entry))),
  ])

function inSmallBlocks(header: Header, entries: readonly JournalEntry[]) {
  const told = columnSurvey()
  for (const entry of entries) told.take(entry)
  const columns = told.columns()!
  const surveyed = forceSurvey(header, columns, 7_000)
  for (const entry of entries) surveyed.take(entry)
  const blocks: BlockOfSamples[] = []
  const maker = blockMaker(
    surveyed.survey(),
    { name: 'n', damaged: 0 },
    block => blocks.push(block),
    // A window of smoothing at 80 Hz is 401 samples, and two of them act on one time.
    { block: 512, around: 1_024 },
  )
  for (const entry of entries) maker.take(entry)
  const rest = maker.end()
  const all = (of: (block: BlockOfSamples) => Float64Array): number[] => blocks.flatMap(b => [...of(b)])
  return {
    blocks,
    rest,
    troubles: maker.troubles,
    timeS: all(b => b.timeS),
    forceN: all(b => b.forceN),
    travel: all(b => b.channels[0]!),
  }
}

const ways: [string, Header, Columns['stamps']][] = [
  ['by the rate given', { ...HEADER, rateHz: 80 }, null],
  ['by the device’s stamps', HEADER, { tickS: 1e-3 }],
  ['by the arrivals', HEADER, null],
]

for (const [way, header, stamps] of ways)
  test(`${way}: in blocks it is the recording that is assembled whole`, () => {
    fc.assert(
      fc.property(fc.nat(), seed => {
        const entries = lineOf(seed, stamps)
        const contents = journalContents(bytesOf(header, entries))!
        const whole = assemble(contents, 'n')
        if (!whole.ok) throw new Error(whole.problems[0]?.what)
        const { recording, troubles } = whole.value
        const made = inSmallBlocks(header, entries)
        expect(made.blocks.length).toBeGreaterThan(6)
        for (const { timeS } of made.blocks.slice(0, -1)) expect(timeS.length).toBe(512)
        expect(made.forceN).toEqual([...recording.forceN])
        expect(made.travel).toEqual([...recording.channels[0]!.values])
        expect(made.troubles).toEqual(troubles)
        expect(made.rest.notes).toEqual(recording.notes)
        expect(made.rest.tension).toEqual(recording.tension)
        expect(made.rest.timeFrom).toBe(recording.timeFrom)
        expect(made.rest.segments.map(({ from, to, began }) => ({ from, to, began }))).toEqual(
          recording.segments.map(({ from, to, began }) => ({ from, to, began })),
        )
        // Arrivals are smoothed with what lies around: far below their jitter of 10 ms it may differ.
        const mostS = way === 'by the arrivals' ? 2e-3 : 1e-6
        let off = 0
        for (let i = 0; i < made.timeS.length; i++) {
          off = Math.max(off, Math.abs(made.timeS[i]! - recording.timeS[i]!))
          if (i > 0 && !(made.timeS[i]! > made.timeS[i - 1]!)) throw new Error(`time falls at ${i}`)
        }
        expect(off).toBeLessThan(mostS)
        const [late] = made.rest.lateChannels
        const turns = late?.valuesAt(Float64Array.from(made.timeS), 0)
        expect(turns?.length).toBe(recording.channels[1]?.values.length)
      }),
      { numRuns: 6, seed: 20 },
    )
  })

test('from a file in pieces of any size: the same samples as from its bytes at once, torn and damaged frames counted', async () => {
  const entries = lineOf(5, null)
  const bytes = bytesOf(HEADER, entries)
  // A wrong bit in a frame of samples, and a last write that was cut short.
  const spoilt = bytes.slice(0, bytes.length - 3)
  spoilt[20_000]! ^= 4
  const contents = journalContents(spoilt)!
  const whole = assemble(contents, 'n')
  for (const size of [7, 1_000, 65_536]) {
    async function* pieces() {
      for (let at = 0; at < spoilt.length; at += size) yield spoilt.subarray(at, at + size)
    }
    const opened = await openLongJournal(pieces, () => 'n', 'j')
    if (!opened.ok || !whole.ok) throw new Error('not opened')
    const { recording, samples, troubles } = opened.value
    const blocks = recording.blocks()
    const forceN: number[] = []
    const timeS: number[] = []
    let next = await blocks.next()
    for (; !next.done; next = await blocks.next()) {
      forceN.push(...next.value.forceN)
      timeS.push(...next.value.timeS)
    }
    expect(samples).toBe(forceN.length)
    expect(forceN).toEqual([...whole.value.recording.forceN])
    expect(timeS).toEqual([...whole.value.recording.timeS])
    expect(next.value.assumptions).toEqual(whole.value.recording.assumptions)
    expect(next.value.understood).toBe(whole.value.recording.understood)
    expect(troubles()).toEqual(whole.value.troubles)
  }
})
