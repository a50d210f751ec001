import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readingSchema } from '../../../src/core/reading/document.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import type { Recording, Segment } from '../../../src/core/recording.ts'

const recordingOf = (timeS: Float64Array, forceN: Float64Array, cuts: readonly number[] = []): Recording => {
  const bounds = [0, ...cuts, timeS.length]
  const segments = bounds.slice(1).map(
    (to, k): Segment => ({
      from: bounds[k]!,
      to,
      began: k === 0 ? 'start' : 'reset',
      name: 'a.csv',
      sha256: '',
      shiftS: 0,
    }),
  )
  return {
    name: 'a.csv',
    sha256: '',
    timeS,
    forceN,
    forceUnit: 'N',
    timeFrom: 'column',
    segments,
    channels: [],
    notes: [],
    assumptions: [],
    understood: '',
  }
}

/** Samples at 50 Hz: each number of the sketch is reached by a straight ramp of one second. */
function sketch(words: string, rateHz = 50): Recording {
  const corners = words.split(' ').map(Number)
  const force: number[] = []
  for (let k = 1; k < corners.length; k++) {
    const a = corners[k - 1]!
    const b = corners[k]!
    for (let i = 0; i < rateHz; i++) force.push(a + ((b - a) * i) / rateHz)
  }
  force.push(corners.at(-1)!)
  return recordingOf(
    Float64Array.from(force, (_, i) => i / rateHz),
    Float64Array.from(force),
  )
}

/** The same with a sudden drop to nothing after the last ramp. */
function broken(words: string): Recording {
  const up = sketch(words)
  const rest = 150
  const force = Float64Array.from({ length: up.forceN.length + rest }, (_, i) => up.forceN[i] ?? 0)
  return recordingOf(
    Float64Array.from(force, (_, i) => i / 50),
    force,
  )
}

const wholeDocument = (recording: Recording, elements: number | null = null) => {
  const reading = readRecording(recording, { elements })
  expect(readingSchema.safeParse(reading).error).toBeUndefined()
  return reading
}

describe('a clean pull', () => {
  const reading = wholeDocument(broken('0 0 0 20 40 60 80 100'))
  test('has one pull that ends in a break at the peak', () => {
    expect(reading.pulls.map(p => p.ends)).toEqual(['break'])
    expect(reading.events.map(e => e.kind)).toEqual(['break'])
    expect(reading.results.peakForce.status).toBe('measured')
    expect(reading.results.peakForce.valueN).toBeCloseTo(100, 0)
  })
  test('has a stiffness over time and a steady loading rate', () => {
    expect(reading.results.stiffness?.unit).toBe('N/s')
    expect(reading.results.stiffness?.value).toBeCloseTo(20, 3)
    expect(reading.results.loadingRate?.meanNPerS).toBeCloseTo(20, 3)
    expect(reading.results.loadingRate?.unevenness).toBeCloseTo(0, 6)
  })
  test('warns of nothing but the missing calibration', () => {
    expect(reading.warnings.map(w => w.code)).toEqual(['not-calibrated'])
  })
  test('a given scale takes that warning away and stands in the budget', () => {
    const scale = { source: 'calibration', shared: 'rig' as const, points: [{ atN: 100, standardN: 0.5 }] }
    const scaled = readRecording(broken('0 0 0 20 40 60 80 100'), { scale })
    expect(scaled.warnings).toEqual([])
    expect(scaled.budget.find(b => b.source === 'calibration')).toMatchObject({
      standardN: 0.5,
      shared: 'rig',
    })
    expect(scaled.results.peakForce.covers).toContain('calibration')
  })
})

describe('the zero', () => {
  test('set under load is found from the rest after the break', () => {
    const up = sketch('0 0 17 41 60 80')
    const force = Float64Array.from({ length: up.forceN.length + 200 }, (_, i) => up.forceN[i] ?? -15)
    const reading = wholeDocument(
      recordingOf(
        Float64Array.from(force, (_, i) => i / 50),
        force,
      ),
    )
    expect(reading.results.peakForce.valueN).toBeCloseTo(95, 0)
    expect(reading.warnings.map(w => w.code)).toContain('zero-set-under-load')
  })
  test('never seen leaves the peak as the indicator gave it', () => {
    const reading = wholeDocument(sketch('30 40 50 60 55 60 70'))
    expect(reading.warnings.map(w => w.code)).toContain('zero-unknown')
    expect(reading.results.peakForce).toMatchObject({
      status: 'not-reached',
      zero: 'as-indicated',
      valueN: 70,
      indicatedN: 70,
    })
  })
})

test('an unload by hand is no break', () => {
  const reading = wholeDocument(sketch('0 0 0 20 40 60 60 20 0 0 0'))
  expect(reading.pulls.map(p => p.ends)).toEqual(['unload'])
  expect(reading.events.map(e => e.kind)).toEqual(['unload'])
  expect(reading.results.peakForce.status).toBe('not-reached')
})

test('pushes are no pulls', () => {
  const reading = wholeDocument(sketch('0 0 0 -20 -40 -20 0 0 0'))
  expect(reading.results.peakForce.valueN === null || reading.results.peakForce.valueN < 45).toBe(true)
  expect(reading.events.filter(e => e.kind === 'break')).toEqual([])
})

describe('any recording', () => {
  const value = fc.oneof(
    fc.double({ min: -1e3, max: 1e3, noNaN: true }),
    fc.integer({ min: -50, max: 50 }),
    fc.constant(0),
    fc.double({ min: -1e12, max: 1e12, noNaN: true }),
    fc.double({ min: -1e-9, max: 1e-9, noNaN: true }),
  )
  const step = fc.oneof(
    fc.constant(0.1),
    fc.double({ min: 1e-4, max: 0.2, noNaN: true }),
    fc.double({ min: 1, max: 1e4, noNaN: true }),
  )
  const samples = fc.array(fc.tuple(step, value), { minLength: 1, maxLength: 150 })

  test('gives a whole document, and is left as it was', () => {
    fc.assert(
      fc.property(samples, fc.option(fc.integer({ min: 1, max: 30 })), fc.nat(), (list, elements, at) => {
        let t = 0
        const timeS = Float64Array.from(list, ([dt]) => (t += dt))
        const forceN = Float64Array.from(list, ([, f]) => f)
        const third = 1 + (at % Math.max(1, list.length - 2))
        const cuts = list.length >= 3 ? [third, third + 1].filter(c => c < list.length) : []
        const kept = [timeS.slice(), forceN.slice()]
        wholeDocument(recordingOf(timeS, forceN, cuts), elements)
        wholeDocument(recordingOf(timeS, forceN), elements)
        expect([timeS, forceN]).toEqual(kept)
      }),
      { seed: 3, numRuns: 120 },
    )
  })

  test.each([
    ['one sample', '5'],
    ['two samples', '5 6'],
    ['all zero', '0 0 0 0 0 0 0 0 0 0 0 0'],
    ['constant', '7 7 7 7 7 7 7 7 7 7 7 7 7 7 7'],
    ['huge', '0 1e300 0 1e300 0 -1e300 1e300'],
    ['tiny', '0 1e-300 2e-300 0 1e-300'],
  ])('%s', (_, words) => {
    const force = Float64Array.from(words.split(' '), Number)
    wholeDocument(
      recordingOf(
        Float64Array.from(force, (_v, i) => i / 10),
        force,
      ),
      8,
    )
  })
})
