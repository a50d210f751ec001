import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { capturedFrom } from '../../../src/capture/captured.ts'
import { journalContents } from '../../../src/capture/journal/entries.ts'
import {
  journalHead,
  jsonFrame,
  readFrames,
  type SampleBlock,
  samplesFrame,
  samplesOf,
} from '../../../src/capture/journal/frames.ts'

const block: SampleBlock = {
  arrivedS: 12.5,
  values: Float64Array.of(1, -2.5, 1e9),
  stampS: Float64Array.of(0.1, Number.NaN, 0.3),
  sequence: Uint32Array.of(7, 8, 65535),
  status: Uint8Array.of(0, 1, 255),
  channels: [Float64Array.of(20, 21, 22)],
}
const file = (...frames: Uint8Array[]): Uint8Array =>
  new Uint8Array(Buffer.concat([journalHead(), ...frames]))

test('a block comes back value for value', () => {
  expect(samplesOf(readFrames(file(samplesFrame(block))).body(0))).toEqual(block)
})
test('a bare block comes back', () => {
  const bare = { ...block, stampS: null, sequence: null, status: null, channels: [] }
  expect(samplesOf(readFrames(file(samplesFrame(bare))).body(0))).toEqual(bare)
})

test('a journal cut at any byte gives every whole frame before the cut', () => {
  const frames = [
    jsonFrame({ what: 'header' }),
    samplesFrame(block),
    samplesFrame(block),
    jsonFrame({ what: 'end' }),
  ]
  const whole = file(...frames)
  const ends = frames.map((_, i) => file(...frames.slice(0, i + 1)).length)
  for (let cut = journalHead().length; cut <= whole.length; cut++) {
    const { count, tornBytes } = readFrames(whole.subarray(0, cut))
    expect(count, `cut at ${cut}`).toBe(ends.filter(end => end <= cut).length)
    expect(tornBytes).toBe(cut - (ends.filter(end => end <= cut).at(-1) ?? journalHead().length))
  }
})

test('a wrong bit anywhere costs its own frame at most', () => {
  const frames = [samplesFrame(block), samplesFrame(block), samplesFrame(block)]
  const whole = file(...frames)
  const from = journalHead().length + frames[0]!.length
  for (let at = from + 8; at < from + frames[1]!.length; at++) {
    const spoilt = whole.slice()
    spoilt[at]! ^= 0x10
    expect(readFrames(spoilt)).toMatchObject({ damaged: 1, tornBytes: 0, count: 2 })
  }
})

test('what is no journal is told, never thrown', () => {
  for (const bytes of ['', 'tenterhook', 'tenterhook journal x\n', '{"a":1}'])
    expect(readFrames(new TextEncoder().encode(bytes))).toMatchObject({ version: 0, count: 0 })
  expect(journalContents(file())).toBeNull()
  expect(journalContents(file(samplesFrame(block)))).toBeNull()
})

test('a journal of version 1, kept since it was new, is read for ever', () => {
  const stored = new Uint8Array(readFileSync(new URL('./version-1.journal', import.meta.url)))
  const captured = capturedFrom(stored, 'version-1.journal', 'recovered')
  if (!captured.ok) throw new Error(captured.problems[0]?.what)
  const { recording, about, troubles } = captured.value
  expect(about).toEqual({
    study: 'Carrier-bag handles',
    variant: 'paste',
    specimen: 'paste 3',
    operator: 'A.',
  })
  expect(recording.timeS.length).toBe(402)
  expect(recording.forceUnit).toBe('kgf')
  expect(recording.timeS[0]).toBeCloseTo(1, 9)
  expect(recording.forceN[201]! / 9.80665).toBeCloseTo(2.01, 9)
  expect(troubles).toEqual({ lost: 1, repeated: 1, outOfOrder: 1, garbled: 2, resets: 1, reopened: 0 })
  expect(recording.notes.map(note => note.text)).toContain('zero taken by the operator')
})

test('a journal of version 2, kept since it was new: with rig, plan, channels and turns', () => {
  const stored = new Uint8Array(readFileSync(new URL('./version-2.journal', import.meta.url)))
  const captured = capturedFrom(stored, 'version-2.journal', 'recovered')
  if (!captured.ok) throw new Error(captured.problems[0]?.what)
  const { recording, reading, rig, specimenId, elements, capacityN, about, source } = captured.value
  expect({ specimenId, elements, capacityN, source }).toEqual({
    specimenId: 's1',
    elements: 8,
    capacityN: 450,
    source: 'hand line',
  })
  expect(about.specimen).toBe('paste 4')
  expect(rig).toMatchObject({ id: 'g6kw046r5b', document: { name: 'nut rig', drive: { mmPerTurn: 1.5 } } })
  expect(recording.forceUnit).toBe('counts')
  expect(recording.timeS.length).toBe(300)
  const [temperature, turns] = recording.channels
  expect(temperature?.values[100]).toBe(21)
  // Taps after samples 80, 120, 160 and 200.
  expect([80, 81, 101, 201, 202].map(i => turns?.values[i])).toEqual([Number.NaN, 1, 1.5, 4, Number.NaN])
  // By the calibration of the rig: 20,850 counts of 0.01 N, and up to a step more between two samples.
  if (!reading.ok) throw new Error(reading.problems[0]?.what)
  const peakN = reading.value.results.peakForce.valueN ?? Number.NaN
  expect(peakN).toBeGreaterThan(208.4)
  expect(peakN).toBeLessThan(210.1)
  expect(reading.value.warnings.map(({ code }) => code)).not.toContain('not-calibrated')
})
