import { expect, test } from 'vitest'
import { demoStudy } from '../../../src/capture/pretend/index.ts'
import type { Adjustment } from '../../../src/core/reading/adjustment.ts'
import { eventLabel } from '../../../src/core/reading/eventLabel.ts'
import { ledgerOf } from '../../../src/core/reading/explainLedger.ts'
import { PRACTICE, saysPractice, withPractice } from '../../../src/core/reading/practice.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'

const { recording } = demoStudy(1)[0]!.logs[0]!
const plain = readRecording(recording)
const signed = { id: 'a', who: 'Ada', when: '2026-05-04T12:00:00Z', why: 'seen by eye' }
const drop = plain.events.find(({ kind }) => kind === 'partial-break')!
const relabelled = (as: 'slip' | 'none', who = 'Ada') =>
  readRecording(recording, {
    adjustments: [{ ...signed, who, kind: 'relabel', atS: drop.atS, as } satisfies Adjustment],
  })

test('what the record shows by itself is nobody’s word', () => {
  expect([...plain.events, ...plain.zeros].filter(one => one.saidBy !== undefined)).toEqual([])
})

test('a drop that a person calls a slip is a slip as that person says, in labels and warnings', () => {
  const reading = relabelled('slip')
  const [slip, ...others] = reading.events.filter(({ saidBy }) => saidBy === 'Ada')
  expect(others).toEqual([])
  expect(slip).toMatchObject({ kind: 'slip', atS: drop.atS })
  expect(eventLabel(slip!, { unit: 'N', decimals: 1, elements: null })).toMatch(
    /^slipped, .* N, as Ada says$/,
  )
  const text = reading.warnings.find(({ code }) => code === 'slip')?.text
  expect(text).toMatch(/^The drop at [\d.]+ s by [\d.]+ N is taken as a slip, as Ada says\. /)
  expect(relabelled('slip', ' ').warnings.find(({ code }) => code === 'slip')?.text).toContain(
    'as a person says',
  )
})

test('a drop that a person calls nothing is gone, and nobody is named', () => {
  expect(relabelled('none').events.filter(({ saidBy }) => saidBy !== undefined)).toEqual([])
})

test('a stretch that a person calls empty is a zero as that person says, in the ledger too', () => {
  const rest = plain.zeros.find(({ basis }) => basis === 'rest')!
  const reading = readRecording(recording, {
    adjustments: [{ ...signed, kind: 'zero-here', fromS: rest.fromS, toS: rest.toS } satisfies Adjustment],
  })
  expect(reading.zeros.some(({ saidBy }) => saidBy === 'Ada')).toBe(true)
  const shifted = { ...recording, forceN: recording.forceN.map(forceN => forceN + 3) }
  const ofShifted = readRecording(shifted, { adjustments: reading.adjustments! })
  expect(
    ledgerOf(ofShifted)
      ?.lines.map(({ text }) => text)
      .join(),
  ).toMatch(/the cell read .* N, as Ada says/)
})

test('numbers that are no force are told on their own scale, never in newton', () => {
  const counts = { ...recording, forceUnit: 'counts' as const }
  const texts = relabelled('slip').warnings.map(({ text }) => text)
  expect(texts.some(text => /\d N\b/.test(text))).toBe(true)
  const adjustments = relabelled('slip').adjustments!
  for (const [forceUnit, scale] of [
    ['counts', 'counts'],
    [null, 'log units'],
  ] as const) {
    const told = readRecording({ ...counts, forceUnit }, { adjustments }).warnings.map(({ text }) => text)
    expect(told.filter(text => /\d N\b/.test(text))).toEqual([])
    expect(told.some(text => text.includes(scale))).toBe(true)
  }
})

test('practice is marked wherever its name stands', () => {
  expect(saysPractice(plain)).toBe(false)
  expect(withPractice('paste 1', plain)).toBe('paste 1')
  expect(withPractice('paste 1', { warnings: [PRACTICE] })).toBe('paste 1 (practice)')
})
