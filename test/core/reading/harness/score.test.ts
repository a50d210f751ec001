import { describe, expect, test } from 'vitest'
import { makePull, pretendKinds } from '../../../../src/capture/pretend/index.ts'
import { perfectReading } from './perfectReading.ts'
import { scoreOne } from './score.ts'
import { quantile, summarise } from './summary.ts'

const { truth } = makePull({ kind: 'saw-tooth', seed: 2 })
const perfect = perfectReading(truth)

test('a reading that knows the truth gets full marks in every family', () => {
  for (const kind of pretendKinds) {
    const { truth } = makePull({ kind, seed: 6 })
    const score = scoreOne(perfectReading(truth), truth)
    expect(score.notes, kind).toEqual([])
    expect([score.missed, score.invented, score.falseAlarms]).toEqual([0, 0, 0])
    expect(score.pullsRight).toBe(true)
    expect(score.endsRight.every(Boolean)).toBe(true)
    expect(score.kindRight).toBe(score.found)
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
