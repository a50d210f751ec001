import { describe, expect, test } from 'vitest'
import type { Segment } from '../../../src/core/recording.ts'
import { findGaps } from '../../../src/core/signal/gaps.ts'
import { fitLine, lineAt, lineStandardN } from '../../../src/core/signal/line.ts'
import { readingNoiseN, roughNoise } from '../../../src/core/signal/noise.ts'
import { median, quantileSorted, robustSd, spread } from '../../../src/core/signal/order.ts'
import { findOverRange } from '../../../src/core/signal/overRange.ts'
import { displayStep } from '../../../src/core/signal/quantum.ts'
import { sampleRate } from '../../../src/core/signal/rate.ts'
import { findSpikes, withoutSpikes } from '../../../src/core/signal/spikes.ts'
import { workingSeries } from '../../../src/core/signal/working.ts'

const series = (sketch: string): Float64Array => Float64Array.from(sketch.split(' '), Number)
const evenly = (n: number, periodS: number): Float64Array =>
  Float64Array.from({ length: n }, (_, i) => i * periodS)
const whole = (n: number): Segment[] => [{ from: 0, to: n, began: 'start', name: '', sha256: '', shiftS: 0 }]

/** Repeatable normal deviates: a small congruential generator and the sum of twelve. */
function normals(n: number, sd: number, seed = 1): Float64Array {
  let state = seed
  const next = (): number => {
    state = (state * 1_664_525 + 1_013_904_223) % 4_294_967_296
    return state / 4_294_967_296
  }
  return Float64Array.from({ length: n }, () => {
    let sum = -6
    for (let k = 0; k < 12; k++) sum += next()
    return sd * sum
  })
}

describe('order statistics', () => {
  test('quantiles are of type 7', () => {
    // numpy.quantile([1, 2, 4, 8], [0, 0.25, 0.5, 1]) -> 1, 1.75, 3, 8
    const sorted = series('1 2 4 8')
    expect([0, 0.25, 0.5, 1].map(q => quantileSorted(sorted, q))).toEqual([1, 1.75, 3, 8])
  })
  test('of nothing there is none', () => {
    expect([quantileSorted([], 0.5), median([]), robustSd([])]).toEqual([null, null, null])
  })
  test('the robust deviation is 1.4826 times the median distance', () => {
    expect(robustSd(series('1 1 2 2 4 6 9'))).toBeCloseTo(1.4826, 10)
  })
  test('a spread sample keeps short series whole', () => {
    expect([...spread(series('3 1 2'), 5)]).toEqual([3, 1, 2])
    expect(spread(evenly(1000, 1), 10).length).toBe(10)
  })
})

describe('sampling', () => {
  test('the period is not the rounded median stamp', () => {
    // 80 a second, stamped to the millisecond: steps of 12 and 13 ms.
    const timeS = Float64Array.from({ length: 400 }, (_, i) => Math.round(i * 12.5) / 1000)
    expect(sampleRate(timeS, whole(400)).periodS).toBeCloseTo(0.0125, 5)
  })
  test('a missing sample is a gap, a late one is not', () => {
    const timeS = Float64Array.from(
      { length: 100 },
      (_, i) => i * 0.1 + (i >= 50 ? 0.25 : 0) + (i === 20 ? 0.03 : 0),
    )
    const { gapS } = sampleRate(timeS, whole(100))
    expect(findGaps(timeS, whole(100), gapS).map(g => g.from)).toEqual([49])
  })
  test('no gap lies between two segments', () => {
    const timeS = Float64Array.from({ length: 40 }, (_, i) => i * 0.1 + (i >= 20 ? 60 : 0))
    const parts: Segment[] = [
      { ...whole(20)[0]!, to: 20 },
      { ...whole(40)[0]!, from: 20, to: 40, began: 'file' },
    ]
    expect(findGaps(timeS, parts, 0.2)).toEqual([])
  })
})

describe('display step', () => {
  test('is the common divisor of small differences', () => {
    const force = normals(500, 0.4).map(v => Math.round(v / 0.05) * 0.05)
    expect(displayStep(force)).toBeCloseTo(0.05, 6)
  })
  test('is 0 where values lie on no grid, or do not change', () => {
    expect(displayStep(normals(500, 1))).toBe(0)
    expect(displayStep(new Float64Array(500))).toBe(0)
  })
})

describe('noise', () => {
  test('is found on a ramp as at rest', () => {
    const ramp = normals(4000, 0.2).map((v, i) => v + Math.max(0, i - 2000) * 0.1)
    expect(roughNoise(ramp, whole(4000))).toBeGreaterThan(0.18)
    expect(roughNoise(ramp, whole(4000))).toBeLessThan(0.22)
  })
  test('on a ramp is never less than the rounding', () => {
    expect(readingNoiseN(0, 0.1)).toBeCloseTo(0.1 / Math.sqrt(12), 12)
    expect(readingNoiseN(0.2, 0.1)).toBe(0.2)
  })
})

describe('glitches', () => {
  const find = (sketch: string) => {
    const force = series(sketch)
    const spikes = findSpikes(evenly(force.length, 0.1), force, whole(force.length), {
      noiseN: 0.05,
      quantumN: 0.1,
      periodS: 0.1,
    })
    return { spikes: spikes.map(s => s.index), clean: [...withoutSpikes(force, spikes)] }
  }
  test('a sample that jumps up and back is one', () => {
    expect(find('0 1 2 3 90 5 6 7').spikes).toEqual([4])
    expect(find('0 1 2 3 90 5 6 7').clean[4]).toBe(4)
  })
  test('so is one that drops out', () => {
    expect(find('40 41 42 43 0 45 46 47').spikes).toEqual([4])
  })
  test('a break is none, and neither is a saw-tooth that loads as fast as before', () => {
    expect(find('0 5 10 15 20 10 15 20 10 15').spikes).toEqual([])
    expect(find('0 5 10 15 20 0 0 0').spikes).toEqual([])
  })
})

describe('over-range', () => {
  const options = { noiseN: 0.1, quantumN: 0.1, periodS: 0.025, zeroN: 0 }
  const load = (top: (i: number) => number) =>
    Float64Array.from({ length: 300 }, (_, i) => (i < 100 ? i * 0.5 : i < 200 ? top(i) : 0))
  const noise = normals(300, 0.1, 5)
  const display = (v: number): number => Math.round(v * 10) / 10
  const found = (forceN: Float64Array, quantumN = options.quantumN) =>
    findOverRange(forceN, { ...options, quantumN, greatestN: Math.max(...forceN) })
  test('a top cut flat is one', () => {
    expect(found(load(() => 50))).toMatchObject({ limitN: 50, count: 100 })
  })
  test('a cut top with the noise left below it is one', () => {
    const cut = load(i => display(Math.min(50, 50 + noise[i]!)))
    expect(found(cut)?.limitN).toBe(50)
  })
  test('a top that is left and reached again at the very same reading is one, however briefly it stands', () => {
    // Six still samples, a drop of 20 N, and six still samples at the same greatest reading.
    const twice = load(i => (i < 106 || (i >= 150 && i < 156) ? 50 : 30 + 0.1 * (i % 40)))
    expect(found(twice, 0.5)).toMatchObject({ limitN: 50, count: 12 })
    const once = load(i => (i < 106 ? 50 : 30))
    expect(found(once, 0.5)).toBeNull()
  })
  test('a noisy hold is none', () => {
    expect(found(load(i => display(50 + noise[i]!)))).toBeNull()
  })
})

describe('lines', () => {
  test('least squares as numpy has it', () => {
    // numpy.polyfit([0, 1, 2, 3], [1, 3, 2, 5], 1) -> slope 1.1, value at 0: 1.1
    const line = fitLine(evenly(4, 1), series('1 3 2 5'), 0, 4)
    expect(line.slopeNPerS).toBeCloseTo(1.1, 12)
    expect(lineAt(line, 0)).toBeCloseTo(1.1, 12)
    expect(line.residualN2).toBeCloseTo(2.7, 12)
  })
  test('doubt grows away from the middle', () => {
    const line = fitLine(evenly(4, 1), series('1 3 2 5'), 0, 4)
    expect(lineStandardN(line, 1.5, 1)).toBeCloseTo(0.5, 12)
    expect(lineStandardN(line, 4, 1)).toBeCloseTo(Math.sqrt(0.25 + 6.25 / 5), 12)
  })
})

describe('working series', () => {
  test('a slow recording is itself', () => {
    const force = series('1 2 3')
    expect(workingSeries(evenly(3, 0.1), force, whole(3), 10, []).forceN).toBe(force)
  })
  test('a fast one is averaged in blocks that span no gap', () => {
    const n = 4000
    const force = Float64Array.from({ length: n }, (_, i) => i)
    const { block, forceN, segments } = workingSeries(evenly(n, 0.0005), force, whole(n), 2000, [1001])
    expect(block).toBe(8)
    expect([...forceN.subarray(0, 2)]).toEqual([3.5, 11.5])
    // Samples 1000 and 1001 lie before the gap and make no whole block.
    expect(forceN[125]).toBe(1005.5)
    expect(segments[0]!.to).toBe(forceN.length)
  })
})
