import { describe, expect, test } from 'vitest'
import { makePull } from '../../../../src/capture/pretend/index.ts'
import { allKinds } from './families.ts'
import { perfectReading } from './perfectReading.ts'
import { scoreOne } from './score.ts'
import { quantile, summarise } from './summary.ts'

const { truth } = makePull({ kind: 'saw-tooth', seed: 2 })
const perfect = perfectReading(truth)

test('a reading that knows the truth gets full marks in every family', () => {
  for (const kind of allKinds) {
    const { truth } = makePull({ kind, seed: 6 })
    const score = scoreOne(perfectReading(truth), truth)
    expect(score.notes, kind).toEqual([])
    expect([score.missed, score.invented, score.falseAlarms]).toEqual([0, 0, 0])
    expect(score.pullsRight).toBe(true)
    expect(score.endsRight.every(Boolean)).toBe(true)
    expect(score.kindRight).toBe(score.found)
    expect([score.statusRight, score.zeroRight ?? true, score.farOff ?? false]).toEqual([true, true, false])
  }
})

describe('a mistake costs', () => {
  const scored = (change: Partial<typeof perfect>) => scoreOne({ ...perfect, ...change }, truth)

  test('a break that was not seen', () => {
    expect(scored({ events: perfect.events.slice(1) }).missed).toBe(1)
  })
  test('a break that is not there', () => {
    const extra = { ...perfect.events[0]!, atS: 0.5 }
    expect(scored({ events: [...perfect.events, extra] }).invented).toBe(1)
  })
  test('a break called a slip', () => {
    const [first, ...rest] = perfect.events
    const score = scored({ events: [{ ...first!, kind: 'slip' }, ...rest] })
    expect(score.found - score.kindRight).toBe(1)
  })
  test('a count of elements outside its bounds', () => {
    const [first, ...rest] = perfect.events
    const score = scored({ events: [{ ...first!, elements: { estimate: 3, low: 3, high: 4 } }, ...rest] })
    expect(score.elementsIn[0]).toBe(false)
    expect(score.elementsOff[0]).toBe(2)
  })
  test('a peak outside its interval', () => {
    const peakForce = { ...perfect.results.peakForce, valueN: truth.peakN + 1, uncertaintyN: 0.5 }
    const score = scored({ results: { ...perfect.results, peakForce } })
    expect(score.peakCovered).toBe(false)
    expect(score.peakError).toBeCloseTo(1 / truth.peakN, 12)
  })
  test('a wrong word on the strength, or on the zero', () => {
    const { results } = perfect
    const said = (change: object) => ({
      results: { ...results, peakForce: { ...results.peakForce, ...change } },
    })
    expect(scored(said({ status: 'not-reached' })).statusRight).toBe(false)
    expect(scored(said({ zero: 'set-under-load' })).zeroRight).toBe(false)
    expect(scored({}).zeroRight).toBe(true)
  })
  test('a peak that is far off; twice as far where the zero is said to be as indicated', () => {
    const off = (share: number, zero: 'seen' | 'as-indicated') => {
      const peakForce = { ...perfect.results.peakForce, zero, valueN: truth.peakN * (1 + share) }
      return scored({ results: { ...perfect.results, peakForce } }).farOff
    }
    expect([off(0.04, 'seen'), off(0.06, 'seen'), off(0.06, 'as-indicated')]).toEqual([false, true, false])
    expect(off(0.11, 'as-indicated')).toBe(true)
  })
  test('an event inside a gap', () => {
    const gapped = makePull({ kind: 'gap-at-top', seed: 1 }).truth
    const reading = perfectReading(gapped)
    const inside = { ...perfect.events[0]!, atS: (gapped.gaps[0]!.from + gapped.gaps[0]!.to) / 2 }
    expect(scoreOne({ ...reading, events: [inside] }, gapped).inGap).toBe(1)
    expect(scoreOne({ ...reading, events: [] }, gapped).inGap).toBe(0)
  })
  test('a pull too many', () => {
    expect(scored({ pulls: [...perfect.pulls, ...perfect.pulls] }).pullsRight).toBe(false)
  })
  test('a needless warning, spike, gap or new zero', () => {
    const recording = { ...perfect.recording, spikes: [{ atS: 1 }], gaps: [{ fromS: 1, toS: 2 }] }
    expect(scored({ recording, warnings: [{ code: 'slip', text: '' }] }).falseAlarms).toBe(3)
  })
})

test('figures add up over readings, and quantiles interpolate', () => {
  const good = scoreOne(perfect, truth)
  const bad = scoreOne({ ...perfect, events: [] }, truth)
  expect(summarise([good, bad]).eventRecall).toBeCloseTo(0.5, 12)
  // numpy.quantile([1, 2, 4], 0.25) → 1.5 (numpy 2.4.6)
  expect(quantile([4, 1, 2], 0.25)).toBe(1.5)
})
