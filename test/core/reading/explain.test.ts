import { describe, expect, test } from 'vitest'
import { makePull } from '../../../src/capture/pretend/index.ts'
import type { Reading } from '../../../src/core/reading/document.ts'
import { explain } from '../../../src/core/reading/explain.ts'
import { ledgerOf } from '../../../src/core/reading/explainLedger.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import { fromNewton } from '../../../src/core/units/force.ts'
import { perfectReading } from './harness/perfectReading.ts'

const base = perfectReading(makePull({ kind: 'hot-melt', seed: 1 }).truth)

/** 60.9 N read, zeroed under 6.7 N, 0.6 N between two readings. */
const paste: Reading = {
  ...base,
  recording: { ...base.recording, rateHz: 10 },
  results: {
    ...base.results,
    peakForce: {
      status: 'measured',
      zero: 'set-under-load',
      zeroAlternatives: null,
      valueN: 68.2,
      uncertaintyN: 1.5,
      lowN: 66.7,
      highN: 69.7,
      covers: ['noise', 'display step', 'zero', 'between samples', 'calibration'],
      atS: 14.2,
      indicatedN: 60.9,
    },
  },
  budget: [
    { source: 'noise', standardN: 0.03, correctionN: 0, shared: 'none' },
    { source: 'display step', standardN: 0.04, correctionN: 0, shared: 'none' },
    { source: 'zero', standardN: 0.35, correctionN: 6.7, shared: 'recording' },
    { source: 'between samples', standardN: 0.6, correctionN: 0.6, shared: 'none' },
    { source: 'calibration', standardN: 0.25, correctionN: 0, shared: 'rig' },
  ],
  warnings: [{ code: 'zero-set-under-load', text: '' }],
}

describe('the ledger of a peak force', () => {
  const ledger = ledgerOf(paste)!

  test('begins with the greatest reading and adds up to the peak', () => {
    expect(ledger.lines.map(l => l.amountN)).toEqual([60.9, 6.7, 0.6])
    expect(ledger.lines.reduce((n, l) => n + l.amountN, 0)).toBeCloseTo(ledger.totalN, 9)
    expect(ledger.lines[1]!.text).toContain('−6.7')
  })

  test('gives half-widths, the greatest first, noise and display step as one', () => {
    expect(ledger.halfWidths).toEqual([
      { halfWidthN: 1.2, text: 'between samples' },
      { halfWidthN: 0.7, text: 'zero' },
      { halfWidthN: 0.5, text: 'calibration' },
      { halfWidthN: expect.closeTo(0.1, 9), text: 'noise and display step' },
    ])
  })

  test('adds up for whatever is read from a pretend rig', () => {
    for (const kind of ['zeroed-under-load', 'pull-out', 'averaged', 'drifting'] as const)
      for (let seed = 1; seed <= 2; seed++) {
        const { recording } = makePull({ kind, seed })
        const reading = readRecording(recording)
        const { lines } = ledgerOf(reading)!
        const sum = lines.reduce((n, l) => n + l.amountN, 0)
        const unnamed = lines.find(l => l.text.startsWith('noise of'))?.amountN ?? 0
        expect(Math.abs(unnamed) / sum, `${kind} ${seed}`).toBeLessThan(0.02)
        expect(sum, `${kind} ${seed}`).toBeCloseTo(reading.results.peakForce.valueN!, 6)
      }
  })

  test('there is none without a peak', () => {
    const peakForce = { ...paste.results.peakForce, valueN: null, indicatedN: null }
    expect(ledgerOf({ ...paste, results: { ...paste.results, peakForce } })).toBeNull()
  })
})

describe('why', () => {
  test('every result that there is has a reason, and none that there is not', () => {
    const about = (reading: Reading) => explain(reading).whys.map(w => w.about)
    expect(about({ ...paste, warnings: [] })).toEqual(['peakForce'])
    const results: Reading['results'] = {
      ...paste.results,
      partialBreaks: 2,
      laterPeaks: [{ valueN: 30, uncertaintyN: 0.2, atS: 40, pull: 1 }],
      timeToPeakS: 8,
      stiffness: { value: 12, unit: 'N/mm' },
      work: { valueJ: 0.4, uncertaintyJ: null },
    }
    expect(about({ ...paste, results, warnings: [] })).toEqual([
      'peakForce',
      'partialBreaks',
      'laterPeaks',
      'timeToPeakS',
      'stiffness',
      'work',
    ])
  })

  test.each([
    ['not-recorded', 'no peak force'],
    ['at-least', 'at least'],
    ['not-reached', 'held'],
    ['measured', '95 of 100'],
    ['no-pull', 'Nothing was pulled'],
  ] as const)('a peak that is %s says so', (status, says) => {
    const peakForce = { ...paste.results.peakForce, status }
    const [why] = explain({ ...paste, results: { ...paste.results, peakForce } }).whys
    expect(why!.text).toContain(says)
  })

  test('a zero that was not seen is said, with what it may be, and in the sum', () => {
    const zeroAlternatives = [
      { levelN: -6.7, weight: 0.2, peakN: 68.2, basis: 'rest' },
      { levelN: 0, weight: 0.8, peakN: 61.5, basis: 'indicated' },
    ]
    const peakForce = { ...paste.results.peakForce, zero: 'as-indicated' as const, zeroAlternatives }
    const reading = { ...paste, results: { ...paste.results, peakForce } }
    const [why] = explain(reading).whys
    expect(why!.text).toContain('as the indicator gave it')
    expect(why!.text).toContain(
      'The peak is 61.5 N if the empty cell reads 0 N (80 in 100) or 68.2 N if the empty cell reads −6.70 N (20 in 100)',
    )
    expect(ledgerOf(reading)!.lines[1]!.text).toContain('wrong sign')
  })

  test('a lopsided interval gives both its ends', () => {
    const peakForce = { ...paste.results.peakForce, highN: 73.4 }
    const [why] = explain({ ...paste, results: { ...paste.results, peakForce } }).whys
    expect(why!.text).toContain('73.4')
    expect(why!.text).toContain('66.7')
  })

  test('a warning that it does not know keeps its own text', () => {
    const warnings = [{ code: 'weather', text: 'It rained in.' }]
    expect(explain({ ...paste, warnings }).whys.at(-1)).toEqual({ about: 'weather', text: 'It rained in.' })
  })

  test('forces appear in the unit asked for and in no other', () => {
    const inKgf = (forceN: number) => `${fromNewton(forceN, 'kgf').toFixed(2)} kgf`
    const zeros = [
      { fromS: 20, toS: 24, levelN: -6.7, uncertaintyN: 0.7, basis: 'rest' as const },
      { fromS: 30, toS: 34, levelN: -6.5, uncertaintyN: 0.7, basis: 'rest' as const },
    ]
    const codes = ['zero-set-under-load', 'zero-moved', 'over-range', 'gap', 'spike', 'slow-sampling', 'slip']
    const reading: Reading = {
      ...paste,
      zeros,
      recording: {
        ...paste.recording,
        overRange: { limitN: 60, count: 7 },
        gaps: [{ fromS: 2, toS: 2.5 }],
        spikes: [{ atS: 3 }],
      },
      warnings: codes.map(code => ({ code, text: 'own text' })),
    }
    const { whys, ledger } = explain(reading, inKgf)
    const told = [...whys.map(w => w.text), ...ledger!.lines.map(l => l.text)].join('\n')
    expect(told).toContain('-0.68 kgf')
    expect(told).toContain('6.12 kgf')
    expect(told).not.toMatch(/\d N\b/)
    expect(told).not.toContain('own text')
  })
})
