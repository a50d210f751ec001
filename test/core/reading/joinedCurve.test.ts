import { describe, expect, test } from 'vitest'
import { makePull } from '../../../src/capture/pretend/index.ts'
import type { Reading } from '../../../src/core/reading/document.ts'
import { correctedForce, joinedCurve } from '../../../src/core/reading/joinedCurve.ts'
import type { Recording } from '../../../src/core/recording.ts'
import { perfectReading } from './harness/perfectReading.ts'

const times = (n: number) => Float64Array.from({ length: n }, (_, i) => i)

const recordingOf = (forceN: number[], change: Partial<Recording> = {}): Recording => ({
  name: 'a.csv',
  sha256: '',
  timeS: times(forceN.length),
  forceN: Float64Array.from(forceN),
  forceUnit: 'N',
  timeFrom: 'column',
  segments: [{ from: 0, to: forceN.length, began: 'start', name: 'a.csv', sha256: '', shiftS: 0 }],
  channels: [],
  notes: [],
  assumptions: [],
  understood: '',
  ...change,
})

const blank = perfectReading(makePull({ kind: 'brittle', seed: 1 }).truth)
const readingOf = (change: Partial<Reading>): Reading => ({
  ...blank,
  zeros: [],
  pulls: [],
  events: [],
  ...change,
})
const zero = (fromS: number, toS: number, levelN: number): Reading['zeros'][number] => ({
  fromS,
  toS,
  levelN,
  uncertaintyN: 0.1,
  basis: 'rest',
})
const pull = (
  startS: number,
  peakS: number,
  endS: number,
  ends: Reading['pulls'][number]['ends'],
): Reading['pulls'][number] => ({ startS, peakS, endS, peakN: 0, uncertaintyN: null, ends })
const rezeroAt = (atS: number): Reading['events'][number] => ({
  kind: 'rezero',
  atS,
  beforeN: 0,
  afterN: 0,
  dropN: 0,
  elements: null,
  confidence: 1,
})

describe('the force less its zero', () => {
  test('the zero runs straight from one rest to the next, and level outside', () => {
    const corrected = correctedForce(
      recordingOf([1, 1, 10, 10, 10, 3, 3]),
      readingOf({ zeros: [zero(0, 1, 1), zero(5, 6, 3)] }),
    )
    expect([...corrected]).toEqual([0, 0, 8.5, 8, 7.5, 0, 0])
  })

  test('a zero set again begins anew', () => {
    const corrected = correctedForce(
      recordingOf([-4, -4, 6, 0, 5, -10, -10]),
      readingOf({ zeros: [zero(0, 1, -4), zero(5, 6, -10)], events: [rezeroAt(3)] }),
    )
    expect([...corrected]).toEqual([0, 0, 10, 10, 15, 0, 0])
  })

  test('so does a second log', () => {
    const segment = { name: 'a.csv', sha256: '', shiftS: 0 }
    const corrected = correctedForce(
      recordingOf([2, 2, 7, 5, 5, 9], {
        segments: [
          { ...segment, from: 0, to: 3, began: 'start' },
          { ...segment, from: 3, to: 6, began: 'file' },
        ],
      }),
      readingOf({ zeros: [zero(0, 1, 2), zero(3, 4, 5)] }),
    )
    expect([...corrected]).toEqual([0, 0, 5, 0, 0, 4])
  })

  test('a single wild reading is bridged, and the recording stays as it was', () => {
    const recording = recordingOf([0, 2, 400, 6])
    const reading = readingOf({ recording: { ...blank.recording, spikes: [{ atS: 2 }] } })
    expect([...correctedForce(recording, reading)]).toEqual([0, 2, 4, 6])
    expect(recording.forceN[2]).toBe(400)
  })

  test('without any zero the force is left as it is', () => {
    expect([...correctedForce(recordingOf([1, 2]), readingOf({}))]).toEqual([1, 2])
  })
})

describe('the joined curve', () => {
  // Loaded to 4, held, let down; loaded again to 8, where it breaks.
  const force = [0, 2, 4, 4, 2, 0, 0, 2, 4, 6, 8, 0, 0]
  const travel = Float64Array.from([0, 1, 2, 2, 1, 0, 0, 1, 2, 3, 4, 4, 4])
  const twice = readingOf({ pulls: [pull(1, 2, 4, 'unload'), pull(7, 10, 10, 'break')] })

  test('leaves out rests, unloads and what was pulled before', () => {
    const curve = joinedCurve(recordingOf(force), twice)
    expect(curve.against).toBe('loading-time')
    expect([...curve.forceN]).toEqual([2, 4, 4, 4, 6, 8, 0, 0])
    expect([...curve.sample]).toEqual([1, 2, 3, 8, 9, 10, 11, 12])
    expect(curve.joins).toEqual([{ point: 3, pull: 1 }])
  })

  test('loading time runs on through the join', () => {
    const reading = { ...twice, recording: { ...blank.recording, rateHz: 1 } }
    expect([...joinedCurve(recordingOf(force), reading).along]).toEqual([0, 1, 2, 3, 4, 5, 6, 7])
  })

  const channel = { name: 'nut', kind: 'travel' as const, unit: 'mm' }

  test('draws against travel where it was logged', () => {
    const recording = recordingOf(force, { channels: [{ ...channel, values: travel }] })
    const curve = joinedCurve(recording, twice)
    expect([curve.against, curve.unit]).toEqual(['travel', 'mm'])
    expect([...curve.along]).toEqual([0, 1, 1, 1, 2, 3, 3, 3])
    expect(joinedCurve(recording, twice, { againstTime: true }).against).toBe('loading-time')
  })

  test('takes extension before travel, and counts either forward', () => {
    const recording = recordingOf(force, {
      channels: [
        { ...channel, values: travel },
        { ...channel, kind: 'extension', values: travel.map(v => -2 * v) },
      ],
    })
    const curve = joinedCurve(recording, twice)
    expect(curve.against).toBe('extension')
    expect(Math.max(...curve.along)).toBe(6)
  })

  test('after a re-grip the measure goes on from the join', () => {
    const moved = travel.map((v, i) => (i > 5 ? v + 50 : v))
    const regrip = { ...rezeroAt(6), kind: 'regrip' as const }
    const curve = joinedCurve(recordingOf(force, { channels: [{ ...channel, values: moved }] }), {
      ...twice,
      events: [regrip],
    })
    expect([...curve.along]).toEqual([0, 1, 1, 1, 2, 3, 3, 3])
  })

  test('shifts and cuts of the operator are replayed', () => {
    const signed = { who: 'R. Weaver', when: '2026-05-04T14:20:00Z', why: 'seen' }
    const curve = joinedCurve(recordingOf(force, { channels: [{ ...channel, values: travel }] }), {
      ...twice,
      adjustments: [
        { ...signed, id: '1', kind: 'shift', fromS: 7, toS: 12, byS: null, byMm: 0.5 },
        { ...signed, id: '2', kind: 'cut', fromS: 11, toS: 12 },
      ],
    })
    expect([...curve.along]).toEqual([0, 1, 1, 1.5, 2.5, 3.5])
  })

  test('a specimen pulled in several strokes gives the curve of one stroke', () => {
    const { recording, truth } = makePull({
      kind: 'strokes',
      seed: 4,
      change: spec => ({
        ...spec,
        logsTravel: true,
        bench: {
          ...spec.bench,
          parts: spec.bench.parts.map(part => ({ ...part, relaxation: [], toeMm: 0 })),
        },
      }),
    })
    const regrips = truth.regrips.map(r => ({ ...rezeroAt(r.to), kind: 'regrip' as const }))
    const reading = { ...perfectReading(truth), zeros: [zero(0, 1, truth.zeroAtStartN)] }
    const curve = joinedCurve(recording, { ...reading, events: [...reading.events, ...regrips] })
    const first = truth.events[0]!.t
    const at = curve.sample.findIndex(i => recording.timeS[i]! > first - 2 / truth.rateHz)
    // Straight from the first stroke to the last: force over travel is one stiffness all along.
    const stiffness = (point: number) => (curve.forceN[point]! - curve.forceN[0]!) / curve.along[point]!
    const points = curve.joins.map(j => j.point + 3)
    for (const point of points) expect(stiffness(point) / stiffness(at)).toBeCloseTo(1, 1)
    expect(curve.joins.length).toBe(truth.pulls.length - 1)
  })
})
