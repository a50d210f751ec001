import { describe, expect, test } from 'vitest'
import { breakPoint } from '../../../src/core/reading/breakPoint.ts'
import { withoutCuts } from '../../../src/core/reading/cuts.ts'
import { type Explained, explainDrops } from '../../../src/core/reading/elements.ts'
import { type Drop, lineAfter, lineBefore } from '../../../src/core/reading/measureDrop.ts'
import { findPulls, pullThresholdN } from '../../../src/core/reading/pulls.ts'
import { quietNoise, quietStretches } from '../../../src/core/reading/quiet.ts'
import { findRezeros } from '../../../src/core/reading/rezero.ts'
import { scaleStandardN } from '../../../src/core/reading/scale.ts'
import { topPoint } from '../../../src/core/reading/topPoint.ts'
import { zeroLevelAt } from '../../../src/core/reading/zero/zeroLine.ts'
import { findZeros } from '../../../src/core/reading/zero/zeros.ts'
import type { Recording, Segment } from '../../../src/core/recording.ts'
import { fitLine } from '../../../src/core/signal/line.ts'

const PERIOD_S = 0.05
const series = (sketch: string): Float64Array => Float64Array.from(sketch.split(' ').flatMap(word))
/** `5*20` is twenty samples of 5; `0>40*9` is nine samples that rise evenly from 0 and stop short of 40. */
function word(text: string): number[] {
  const [value, count] = text.split('*') as [string, string | undefined]
  const [a, b] = value.split('>').map(Number) as [number, number | undefined]
  const n = Number(count ?? 1)
  return Array.from({ length: n }, (_, i) => (b === undefined ? a : a + ((b - a) * i) / n))
}
const stamps = (n: number): Float64Array => Float64Array.from({ length: n }, (_, i) => i * PERIOD_S)
const whole = (n: number): Segment[] => [{ from: 0, to: n, began: 'start', name: '', sha256: '', shiftS: 0 }]
const signal = { periodS: PERIOD_S, noiseN: 0.05, quantumN: 0.1 }
const quietsOf = (force: Float64Array) =>
  quietStretches(stamps(force.length), force, whole(force.length), signal)

describe('quiet stretches', () => {
  test('are rests and holds alike, and no ramps', () => {
    const quiets = quietsOf(series('0*40 0>40*40 40*40 40>0*40 0*40'))
    expect(quiets.map(q => Math.round(q.levelN))).toEqual([0, 40, 0])
  })
  test('give the noise of the display', () => {
    const force = Float64Array.from({ length: 200 }, (_, i) => (i % 2) * 0.1)
    expect(quietNoise(quietsOf(force))?.usualN).toBeCloseTo(0.05, 2)
    expect(quietNoise([])).toBeNull()
  })
  test('give the noise of the calm ones, where a held load fluctuates for longer', () => {
    const quiets = [40, 160, 200, 600].map((n, k) => ({
      ...quietsOf(series('0*40'))[0]!,
      from: 0,
      to: n,
      noiseN: k + 1,
    }))
    expect(quietNoise(quiets)).toEqual({ usualN: 3, calmestN: 2 })
    // Fewer than twenty samples say too little of the calmest.
    expect(
      quietNoise([
        { ...quiets[0]!, to: 15 },
        { ...quiets[1]!, to: 60 },
      ])?.calmestN,
    ).toBe(2)
  })
  test('say nothing of the noise where they stand at the limit of the range', () => {
    const quiet = quietsOf(series('0*40'))[0]!
    const rest = { ...quiet, from: 0, to: 50, noiseN: 0.1 }
    const limits = [90, 90 + 1e-12].map(levelN => ({ ...quiet, from: 0, to: 400, levelN, noiseN: 1e-13 }))
    expect(quietNoise([rest, ...limits])).toEqual({ usualN: 0.1, calmestN: 0.1 })
  })
  test('leave out a loading that begins so softly that the noise hides it', () => {
    const shape = (i: number): number => (i < 120 ? 0 : 0.0002 * (i - 120) ** 2)
    const force = Float64Array.from(
      { length: 200 },
      (_, i) => shape(i) + 0.05 * Math.sin(7 * i) + 0.04 * Math.sin(3.3 * i),
    )
    const [rest] = quietsOf(force)
    expect(rest!.from).toBeLessThan(5)
    expect(rest!.to).toBeGreaterThan(80)
    expect(rest!.to).toBeLessThan(150)
  })
})

describe('a new zero', () => {
  const at = (force: Float64Array) =>
    findRezeros(stamps(force.length), force, whole(force.length), signal, quietsOf(force)).map(r => r.index)
  test('jumps up onto 0 between two stillnesses', () => {
    expect(at(series('-20*60 -20>-5*30 -5*20 0*20 0>30*40'))).toEqual([110])
  })
  test('is no break that lands on 0', () => {
    expect(at(series('0*40 0>40*40 40*20 0*60'))).toEqual([])
  })
  test('under a held tension leaves the last rest as far below 0', () => {
    expect(at(series('0*40 0>10*20 10*20 0*20 0>30*40 -10*60'))).toEqual([80])
  })
})

describe('zeros', () => {
  const zerosOf = (force: Float64Array) => {
    const timeS = stamps(force.length)
    const quiets = quietsOf(force)
    const rezeros = findRezeros(timeS, force, whole(force.length), signal, quiets)
    return findZeros({
      timeS,
      forceN: force,
      segments: whole(force.length),
      signal,
      quiets,
      rezeros,
      amendments: { zeros: [], holds: [] },
    })
  }
  test('a rest before and after count both', () => {
    const { epochs } = zerosOf(series('0*40 0>40*40 0*60'))
    expect(epochs[0]).toMatchObject({ basis: 'rest', preloadN: 0, unseen: false })
    expect(epochs[0]!.rests.length).toBe(2)
  })
  test('a start above the rest after the break was zeroed under load', () => {
    const { epochs } = zerosOf(series('0*40 0>40*40 -12*60'))
    expect(epochs[0]!.preloadN).toBeCloseTo(12, 1)
    expect(zeroLevelAt(epochs[0]!, 3)).toBeCloseTo(-12, 1)
  })
  test('a part without a rest carries the zero over the jump', () => {
    const { zeros } = zerosOf(series('0*40 0>40*40 -12*60 -12>-5*30 -5*20 0*20 0>30*40'))
    expect(zeros.at(-1)).toMatchObject({ basis: 'carried' })
    expect(zeros.at(-1)!.levelN).toBeCloseTo(-7, 1)
  })
  test('what never rests has none, and counts from its lowest reading', () => {
    const { epochs } = zerosOf(series('5>60*100 40>70*50'))
    expect(epochs[0]).toMatchObject({ unseen: true, basis: 'indicated' })
    expect(zeroLevelAt(epochs[0]!, 1)).toBeLessThan(5)
  })
})

describe('pulls', () => {
  const pullsOf = (sketch: string) => {
    const force = series(sketch)
    return findPulls(stamps(force.length), force, whole(force.length), 2)
  }
  test('last longer than half a second over the threshold', () => {
    expect(pullsOf('0*99 30*20 0*99')).toEqual([{ from: 99, to: 119, open: false }])
    expect(pullsOf('0*99 30*20 0*99 30*8 0*99')).toEqual([{ from: 99, to: 119, open: false }])
  })
  test('or, where nothing does, eight readings far over it', () => {
    expect(pullsOf('0*99 30*8 0*99')).toEqual([{ from: 99, to: 107, open: false }])
    expect(pullsOf('0*99 30*7 0*99')).toEqual([])
    expect(pullsOf('0*99 4*8 0*99')).toEqual([])
  })
  test('or, in a record shorter than ten seconds, for longer than a twentieth of it', () => {
    expect(pullsOf('0*20 30*8 0*20').length).toBe(1)
    expect(pullsOf('0*20 30*2 0*20').length).toBe(0)
  })
  test('a dip shorter than a quarter of a second does not part them', () => {
    expect(pullsOf('0*20 30*20 0*3 30*20 0*20').length).toBe(1)
    expect(pullsOf('0*20 30*20 0*9 30*20 0*20').length).toBe(2)
  })
  test('are open where the record ends over the threshold', () => {
    expect(pullsOf('0*20 30*20')[0]!.open).toBe(true)
  })
  test('the threshold is the greatest of its three parts', () => {
    expect([
      pullThresholdN(100, 0.1, 0.1),
      pullThresholdN(10, 0.1, 0.1),
      pullThresholdN(10, 0.01, 0.1),
    ]).toEqual([2, 0.6000000000000001, 0.30000000000000004])
  })
})

describe('the force at a break', () => {
  /** A ramp of 20 N/s that breaks at `tB` onto `left`, seen by a converter that averages over one period. */
  function averaged(tB: number, left: number, n = 40): { timeS: Float64Array; loadN: Float64Array } {
    const fine = 200
    const force = (t: number): number => (t < tB ? 20 * t : left)
    const timeS = Float64Array.from({ length: n }, (_, i) => (i + 1) * PERIOD_S)
    const loadN = timeS.map(t => {
      let sum = 0
      for (let k = 0; k < fine; k++) sum += force(t - ((k + 0.5) * PERIOD_S) / fine)
      return sum / fine
    })
    return { timeS, loadN }
  }
  const steady = {
    span: 1,
    periodS: PERIOD_S,
    jitterS: 0,
    noiseN: 0.02,
    paceNPerS: 20,
    changesPerS: 0.1,
    corner: false,
    chain: 0,
    cascade: false,
  }
  test.each([1.51, 1.525, 1.54])('is found between two samples, at %f s', tB => {
    const { timeS, loadN } = averaged(tB, 5)
    const to = timeS.findIndex(t => t - PERIOD_S >= tB)
    const point = breakPoint({
      timeS,
      loadN,
      base: lineBefore(timeS, loadN, 0, to - 2, 0.02),
      baseTo: to - 2,
      after: lineAfter(timeS, loadN, to, 39, 0.02),
      from: to - 2,
      to,
      ...steady,
    })
    expect(Math.abs(point.beforeN - 20 * tB)).toBeLessThan(0.06)
    expect(point.lowN).toBeLessThan(20 * tB)
    expect(point.highN).toBeGreaterThan(20 * tB)
    expect(point.atS).toBeCloseTo(tB, 2)
    expect(point.share).toBeCloseTo((20 * tB - 5) / (20 * tB), 2)
  })
  test('is that at the end of a sample where no sample shows the fall', () => {
    const { timeS, loadN } = averaged(1.5, 5)
    const from = timeS.findIndex(t => t > 1.4999)
    const point = breakPoint({
      timeS,
      loadN,
      base: lineBefore(timeS, loadN, 0, from, 0.02),
      baseTo: from,
      after: lineAfter(timeS, loadN, from + 1, 39, 0.02),
      from,
      to: from + 1,
      ...steady,
    })
    expect(point.beforeN).toBeCloseTo(30, 1)
    expect(point.atS).toBeCloseTo(1.5, 4)
  })
  test('of many breaks at once lies anywhere in the period in which they began', () => {
    const { timeS, loadN } = averaged(1.51, 5)
    const from = timeS.findIndex(t => t > 1.4999)
    // A second break and a third, one and two samples later.
    for (let i = from + 2; i < loadN.length; i++) loadN[i] = i === from + 2 ? 3 : 1
    const point = breakPoint({
      timeS,
      loadN,
      base: lineBefore(timeS, loadN, 0, from, 0.02),
      baseTo: from,
      after: lineAfter(timeS, loadN, from + 3, 39, 0.02),
      from,
      to: from + 3,
      ...steady,
      cascade: true,
    })
    expect(point.lowN).toBeLessThan(30.05)
    expect(point.highN).toBeGreaterThan(30.45)
    expect(point.highN - point.lowN).toBeLessThan(2 * 20 * PERIOD_S)
  })
})

describe('a top without a drop', () => {
  const options = { from: 0, to: 60, span: 1, periodS: PERIOD_S, jitterS: 0, noiseN: 0.02 }
  test('that is round has the height of its parabola', () => {
    const timeS = stamps(60)
    const loadN = timeS.map(t => 50 - 8 * (t - 1.51) ** 2)
    const top = loadN.indexOf(Math.max(...loadN))
    expect(topPoint(timeS, loadN, top, options).valueN).toBeCloseTo(50, 1)
  })
  test('at the edge of what was read is the sample alone, known to two standard deviations', () => {
    const loadN = stamps(60).map((_, i) => (i < 59 ? 0.1 * i : 40))
    const point = topPoint(stamps(60), loadN, 59, options)
    expect(point).toMatchObject({ valueN: 40, sharp: false })
    expect(point.highN - 40).toBeCloseTo(2 * options.noiseN, 12)
    expect(40 - point.lowN).toBeCloseTo(2 * options.noiseN, 12)
  })
  test('from which parts give way one after another lies on the line before, up to a period later', () => {
    const timeS = stamps(60)
    const top = timeS.findIndex(t => t > 1.4999)
    const loadN = timeS.map((t, i) => (i <= top ? 20 * t : Math.max(0, 30 - 2 * (i - top))))
    const point = topPoint(timeS, loadN, top, { ...options, span: 0 })
    expect(point.sharp).toBe(true)
    expect(point.lowN).toBeLessThan(30.05)
    expect(point.highN).toBeGreaterThan(20 * (1.5 + 0.95 * PERIOD_S))
    expect(point.valueN).toBeGreaterThan(30)
    expect(point.valueN).toBeLessThan(20 * (1.5 + PERIOD_S))
  })
  test('that is a corner has the height where its lines meet', () => {
    const timeS = stamps(60)
    const loadN = timeS.map(t => (t < 1.52 ? 20 * t : 30.4 - 30 * (t - 1.52)))
    const top = loadN.indexOf(Math.max(...loadN))
    const point = topPoint(timeS, loadN, top, { ...options, span: 0 })
    expect(point.lowN).toBeLessThan(30.4)
    expect(point.highN).toBeGreaterThan(30.4)
    expect(Math.abs(point.valueN - 30.4)).toBeLessThan(0.4)
  })
})

describe('elements', () => {
  const flat = fitLine(stamps(2), Float64Array.of(0, 0), 0, 2)
  const drop = (beforeN: number, afterN: number, at: number): Drop => ({
    pull: 0,
    from: at,
    to: at + 1,
    atS: at,
    beforeN,
    lowN: beforeN,
    highN: beforeN,
    afterN,
    share: (beforeN - afterN) / beforeN,
    shareStandard: 0.003,
    before: flat,
    after: flat,
    readingN: 0.05,
    cut: false,
    leavesNothing: afterN === 0,
    clearness: 10,
    ratio: 10,
    amongTeeth: false,
    stops: false,
  })
  const explain = (drops: readonly Drop[], elements: number | null): Explained[] =>
    explainDrops(drops, { elements, labels: [], periodS: 0.025, hiddenN: null })

  test('of a stiff rig go by their share of what is left', () => {
    const told = explain([drop(80, 70, 1), drop(84, 60, 2), drop(70, 0, 3)], 8)
    expect(told.map(t => t.elements?.estimate)).toEqual([1, 2, 5])
    expect(told.map(t => t.kind)).toEqual(['partial-break', 'partial-break', 'break'])
  })
  test('of a rig that gives lose less: n = 10, beta = 0.2 of the published example', () => {
    // test/reference/fibre_bundle.json, force_drop examples: 50 N fall to 45.76 (1 of 10), 41.38 (2 of 10), 27.27 (5 of 10).
    // One element more is then read as such: k / K = 0.02, 9 elements left fall by 1 / (9 (1 + 0.02 · 8)).
    const share = 1 / (9 * (1 + 0.02 * 8))
    const told = explain([drop(50, 45.7627118644, 1), drop(50, 50 * (1 - share), 2), drop(48, 0, 3)], 10)
    expect(told.slice(0, 2).map(t => t.elements?.estimate)).toEqual([1, 1])
  })
  test('a fall that no whole number of elements gives is a slip', () => {
    const told = explain([drop(40, 37.6, 1), drop(60, 45, 2), drop(60, 40, 3), drop(50, 0, 4)], 4)
    expect(told.map(t => t.kind)).toEqual(['slip', 'partial-break', 'partial-break', 'break'])
  })
  test('never add up to more than there are', () => {
    const told = explain([drop(40, 20, 1), drop(40, 20, 2), drop(40, 20, 3), drop(40, 0, 4)], 4)
    const least = told.reduce((sum, t) => sum + (t.elements?.low ?? 0), 0)
    expect(least).toBeLessThanOrEqual(4)
  })
  test('are not counted where nobody says how many there were', () => {
    expect(explain([drop(80, 70, 1)], null)[0]).toMatchObject({ kind: 'partial-break', elements: null })
  })
  test('a label decides the kind', () => {
    const labels = [{ atS: 1.1, kind: 'slip' as const }]
    const told = explainDrops([drop(80, 70, 1), drop(84, 0, 2)], {
      elements: 8,
      labels,
      periodS: 0.025,
      hiddenN: null,
    })
    expect(told[0]).toMatchObject({ kind: 'slip', elements: null, confidence: 1 })
  })
})

test('a scale is read straight between its points', () => {
  const scale = {
    source: 'calibration',
    shared: 'rig' as const,
    points: [
      { atN: 10, standardN: 0.1 },
      { atN: 30, standardN: 0.3 },
    ],
  }
  expect([0, 10, 20, 30, 99].map(f => scaleStandardN(scale, f))).toEqual([0.1, 0.1, 0.2, 0.3, 0.3])
})

test('cut spans leave the other samples and their segments', () => {
  const recording: Recording = {
    name: '',
    sha256: '',
    timeS: Float64Array.of(0, 1, 2, 3, 4),
    forceN: Float64Array.of(5, 6, 7, 8, 9),
    forceUnit: 'N',
    timeFrom: 'column',
    segments: [
      { from: 0, to: 2, began: 'start', name: '', sha256: '', shiftS: 0 },
      { from: 2, to: 5, began: 'reset', name: '', sha256: '', shiftS: 0 },
    ],
    channels: [],
    notes: [],
    assumptions: [],
    understood: '',
  }
  const cut = withoutCuts(recording, [{ fromS: 1, toS: 2.5 }])
  expect([...cut.forceN]).toEqual([5, 8, 9])
  expect(cut.segments.map(s => [s.from, s.to])).toEqual([
    [0, 1],
    [1, 3],
  ])
  expect(withoutCuts(recording, [])).toBe(recording)
})
