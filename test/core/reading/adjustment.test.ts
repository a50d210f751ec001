import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  type Adjustment,
  adjustmentText,
  amendmentsOf,
  withAdjustment,
  withoutAdjustment,
} from '../../../src/core/reading/adjustment.ts'
import { parseAdjustments } from '../../../src/core/reading/adjustmentDocument.ts'
import { NO_AMENDMENTS } from '../../../src/core/reading/amendments.ts'

const signed = { who: 'R. Weaver', when: '2026-05-04T14:20:00Z', why: 'heard it slip' }
const label = (id: string, atS: number, as: 'slip' | 'break' | 'none'): Adjustment => ({
  ...signed,
  id,
  kind: 'relabel',
  atS,
  as,
})
const elements = (id: string, count: number | null): Adjustment => ({
  ...signed,
  id,
  kind: 'elements',
  count,
})
const zero = (id: string, fromS: number, toS: number): Adjustment => ({
  ...signed,
  id,
  kind: 'zero-here',
  fromS,
  toS,
})

const anyAdjustment = fc.oneof(
  fc.record({ id: fc.string(), atS: fc.integer({ min: 0, max: 9 }) }).map(r => label(r.id, r.atS, 'slip')),
  fc.record({ id: fc.string(), count: fc.integer({ min: 1, max: 20 }) }).map(r => elements(r.id, r.count)),
  fc
    .record({ id: fc.string(), from: fc.integer({ min: 0, max: 9 }) })
    .map(r => zero(r.id, r.from, r.from + 1)),
)

describe('replaying a list', () => {
  test('nothing comes to nothing', () => expect(amendmentsOf([])).toEqual(NO_AMENDMENTS))

  test('the later of two on one thing counts', () => {
    expect(amendmentsOf([elements('a', 8), elements('b', 10)]).elements).toBe(10)
    expect(amendmentsOf([elements('b', 10), elements('a', 8)]).elements).toBe(8)
    expect(amendmentsOf([label('a', 4, 'slip'), label('b', 4, 'break')]).labels).toEqual([
      { atS: 4, kind: 'break' },
    ])
  })

  test('“not known” is told from “not said”', () => {
    expect(amendmentsOf([elements('a', 8), elements('b', null)]).elements).toBeNull()
    expect(amendmentsOf([]).elements).toBeUndefined()
  })

  test('every kind reaches the stages', () => {
    const all: Adjustment[] = [
      zero('1', 1, 2),
      { ...signed, id: '2', kind: 'drop-pull', atS: 3 },
      label('3', 4, 'none'),
      { ...signed, id: '4', kind: 'cut', fromS: 5, toS: 6 },
      { ...signed, id: '5', kind: 'shift', fromS: 7, toS: 8, byS: 0.5, byMm: null },
      elements('6', 8),
      { ...signed, id: '7', kind: 'sensitivity', factor: 2 },
      { ...signed, id: '8', kind: 'hold', fromS: 8, toS: 9 },
    ]
    expect(amendmentsOf(all)).toEqual({
      elements: 8,
      sensitivity: 2,
      zeros: [{ fromS: 1, toS: 2 }],
      holds: [{ fromS: 8, toS: 9 }],
      droppedPulls: [{ atS: 3 }],
      labels: [{ atS: 4, kind: 'none' }],
      cuts: [{ fromS: 5, toS: 6 }],
      shifts: [{ fromS: 7, toS: 8, byS: 0.5, byMm: null }],
    })
    for (const a of all) expect(adjustmentText(a).length).toBeGreaterThan(8)
  })

  test('is pure: twice gives the same, and the list stays as it was', () => {
    fc.assert(
      fc.property(fc.array(anyAdjustment), list => {
        const before = structuredClone(list)
        expect(amendmentsOf(list)).toEqual(amendmentsOf(list))
        expect(list).toEqual(before)
      }),
      { seed: 7 },
    )
  })

  test('undo: what was added and taken out leaves no trace', () => {
    fc.assert(
      fc.property(fc.array(anyAdjustment), anyAdjustment, (list, extra) => {
        const others = list.filter(a => a.id !== extra.id)
        const undone = withoutAdjustment(withAdjustment(others, extra), extra.id)
        expect(undone).toEqual(others)
        expect(amendmentsOf(undone)).toEqual(amendmentsOf(others))
      }),
      { seed: 7 },
    )
  })

  test('adding twice is adding once', () => {
    const once = withAdjustment([zero('z', 0, 1)], label('a', 4, 'slip'))
    expect(withAdjustment(once, label('a', 4, 'slip'))).toEqual(once)
  })
})

describe('the file', () => {
  const file = (adjustments: unknown[]) =>
    JSON.stringify({ document: 'tenterhook.adjustments', version: 1, adjustments })

  test('comes back as it was written', () => {
    const list = [zero('z', 1, 2), label('a', 4, 'slip'), elements('n', null)]
    expect(parseAdjustments(file(list), 'a.json')).toEqual({ ok: true, value: list })
  })

  test.each([
    ['not JSON', '{', 'not JSON'],
    [
      'another document',
      '{"document":"tenterhook.reading","version":1,"adjustments":[]}',
      'tenterhook.reading',
    ],
    ['a stretch that runs back', file([zero('z', 2, 1)]), 'later than fromS'],
    ['no reason', file([{ ...zero('z', 1, 2), why: '' }]), '""'],
    ['a kind that there is not', file([{ ...zero('z', 1, 2), kind: 'tidy' }]), 'tidy'],
    ['a day without a time', file([{ ...zero('z', 1, 2), when: '2026-05-04' }]), '2026-05-04'],
    ['a half element', file([{ ...elements('n', 1.5) }]), '1.5'],
    ['an id used twice', file([zero('z', 1, 2), zero('z', 3, 4)]), 'already the id of adjustment 1'],
    [
      'a shift that goes nowhere',
      file([{ ...zero('z', 1, 2), kind: 'shift', byS: null, byMm: null }]),
      'how far',
    ],
  ])('%s is a problem with its place', (_, text, says) => {
    const outcome = parseAdjustments(text, 'a.json')
    expect(outcome.ok).toBe(false)
    if (outcome.ok) return
    const told = outcome.problems.map(p => `${p.where} ${p.what}`).join('\n')
    expect(told).toContain('a.json')
    expect(told).toContain(says)
  })

  test('every problem is told, not the first', () => {
    const outcome = parseAdjustments(file([{ ...zero('z', 2, 1), who: '' }, elements('n', 0)]), 'a.json')
    expect(outcome.ok ? [] : outcome.problems.map(p => p.where)).toEqual(
      expect.arrayContaining(['a.json, adjustment 1, who', 'a.json, adjustment 2, count']),
    )
  })
})
