import { describe, expect, test } from 'vitest'
import { makeMeter } from '../../../src/capture/live/meter.ts'
import type { LiveEvent } from '../../../src/capture/types.ts'
import { scoreLive } from './scoreLive.ts'

/**
 * A ramp at 1000 Hz with noise of 0.05 N, a fall at 2 s to `leftN`, and a ramp at `after` times the old pace.
 */
function told(leftN: number, after: number, rateHz = 1000): { at: number; event: LiveEvent }[] {
  const meter = makeMeter()
  meter.zeroWhenQuiet()
  const events: { at: number; event: LiveEvent }[] = []
  let random = 7
  const noise = (): number => {
    random = (random * 1103515245 + 12345) % 2147483648
    return 0.1 * (random / 2147483648 - 0.5)
  }
  for (let i = 0; i < 4 * rateHz; i++) {
    const t = i / rateHz
    const force = t < 0.7 ? 0 : t < 2 ? 40 * (t - 0.7) : leftN === 0 ? 0 : leftN + 40 * after * (t - 2)
    for (const event of meter.add(t, force + noise()).events) events.push({ at: i - 2 * rateHz, event })
  }
  return events
}

describe('a fall at 1,000 samples a second', () => {
  for (const [leftN, after, kind] of [
    [0, 0, 'break'],
    [30, 0.55, 'partial-break'],
  ] as const) {
    test(`to ${leftN} N is told at once and known as ${kind} within five samples`, () => {
      const events = told(leftN, after)
      expect(events[0]).toMatchObject({ at: 0, event: { kind: 'drop', settled: false } })
      expect(events[1]?.event).toMatchObject({ kind, settled: true, id: events[0]?.event.id })
      expect(events[1]!.at).toBeLessThanOrEqual(5)
      expect(events).toHaveLength(2)
      expect(events[1]!.event.dropN).toBeCloseTo(52 - leftN, 0)
    })
  }

  test('a glitch of one sample is taken back', () => {
    const meter = makeMeter()
    const kinds: string[] = []
    for (let i = 0; i < 400; i++) {
      const force = i < 50 ? 0 : (i - 50) * 0.5
      const events = meter.add(i / 80, i === 300 ? 5 : force + (i % 2) * 0.02).events
      kinds.push(...events.map(({ kind }) => kind))
    }
    expect(kinds).toEqual(['drop', 'none'])
  })

  test('a knock on the grip is no fall', () => {
    const meter = makeMeter()
    const events: LiveEvent[] = []
    for (let i = 0; i < 400; i++) {
      const inKnock = i >= 200 && i < 220
      const force = inKnock ? 8 * Math.sin((Math.PI * (i - 200)) / 20) : 0
      events.push(...meter.add(i / 80, force + (i % 3) * 0.01).events)
    }
    expect(events).toEqual([])
  })
})

test('pretend pulls: falls are found as they come, kinds in five samples, hardly a false one', () => {
  let must = 0
  let found = 0
  let kindRight = 0
  let falseAlarms = 0
  let records = 0
  for (const kind of ['saw-tooth', 'strokes', 'brittle', 'fast', 'stitching', 'hot-melt'] as const) {
    for (const seed of [1, 2]) {
      const score = scoreLive(kind, seed)
      must += score.must
      found += score.found
      kindRight += score.kindRight
      falseAlarms += score.falseAlarms
      records++
      expect(score.latestSettled, `${kind} ${seed}`).toBeLessThanOrEqual(5)
    }
  }
  expect(found / must).toBeGreaterThan(0.9)
  expect(kindRight / found).toBeGreaterThan(0.9)
  expect(falseAlarms / records).toBeLessThan(0.3)
})
