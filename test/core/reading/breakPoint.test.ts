import { describe, expect, test } from 'vitest'
import { type Random, seeded } from '../../../src/capture/pretend/random.ts'
import { breakPoint } from '../../../src/core/reading/breakPoint.ts'
import { baseLine, lineAfter, measureDrop } from '../../../src/core/reading/measureDrop.ts'
import { COURSE_PRIORS, coursePriors } from '../../../src/core/reading/priors.ts'
import { topPoint } from '../../../src/core/reading/topPoint.ts'
import { WeighedCourses } from '../../../src/core/reading/weighedCourses.ts'

/**
 * Coverage of the interval of the force at a break, by simulation: many breaks at any instant between two samples, of
 * a force that goes as a prior says it may. Each prior decides whether the true force is held.
 */

const PERIOD_S = 0.05
const PACE_N_PER_S = 20
const SAMPLES = 36
/** Instants at which the force is averaged, in one period. */
const FINE = 40
const RUNS = 300

interface Case {
  /** Periods over which the converter averages (0: points), and over how many it is thought to. */
  readonly span: number
  readonly thoughtSpan?: number
  readonly noiseN: number
  readonly changesPerS: number
  /** Chance beforehand of two breaks; left out: there is one only. */
  readonly chain?: number
  /** Half of the change of the slope in a second, in N/s². */
  readonly bend?: number
  /** It stood still and began to rise within a period and a half before the break; afterwards it stands still. */
  readonly rest?: boolean
}

interface Coverage {
  /** Shares of the breaks whose force lies within the interval, and not above it. */
  readonly both: number
  readonly high: number
  readonly widthN: number
}

function coverage(of: Case): Coverage {
  const random = seeded(99)
  const sums = { both: 0, high: 0, widthN: 0 }
  for (let run = 0; run < RUNS; run++) {
    const { topN, lowN, highN } = oneBreak(of, random)
    if (topN <= highN) sums.high++
    if (topN <= highN && topN >= lowN) sums.both++
    sums.widthN += highN - lowN
  }
  return { both: sums.both / RUNS, high: sums.high / RUNS, widthN: sums.widthN / RUNS }
}

function oneBreak(
  { span, thoughtSpan = span, noiseN, changesPerS, chain, bend = 0, rest = false }: Case,
  random: Random,
): { topN: number; lowN: number; highN: number } {
  const breaksS = 1.5 + PERIOD_S * random.next()
  const risesS = breaksS - 1.5 * PERIOD_S * random.next()
  const paceNPerS = PACE_N_PER_S * random.between(0.4, 1.6)
  const lost = random.between(0.25, 0.65)
  const second = chain === undefined ? null : { atS: breaksS + 0.95 * PERIOD_S * random.next() }
  const first = second ? random.between(0.15, 0.85) : 1
  const risingN = (t: number): number =>
    rest
      ? 25 + paceNPerS * Math.max(0, t - risesS)
      : 30 + PACE_N_PER_S * (t - breaksS) + bend * (t - breaksS) ** 2
  const topN = risingN(breaksS)
  const forceN = (t: number): number => {
    if (t < breaksS) return risingN(t)
    const gone = lost * (second && t < second.atS ? first : 1)
    return topN * (1 - gone) + (rest ? 0 : PACE_N_PER_S * (1 - lost) * (t - breaksS))
  }
  const timeS = Float64Array.from({ length: SAMPLES }, (_, i) => (i + 1) * PERIOD_S)
  const loadN = timeS.map(t => {
    let sum = 0
    for (let k = 0; k < span * FINE; k++) sum += forceN(t - ((k + 0.5) * PERIOD_S) / FINE)
    return (span > 0 ? sum / (span * FINE) : forceN(t)) + random.normal(0, noiseN)
  })
  const from = timeS.findIndex(t => t >= breaksS) - 1
  let to = from + 1
  while (to < SAMPLES - 4 && loadN[to]! - loadN[to + 1]! > Math.max(4.2 * noiseN, 0.02)) to++
  const reach = { first: 0, from, span: Math.max(1, thoughtSpan), most: LINE_SAMPLES }
  const { line: base, to: baseTo } = baseLine(timeS, loadN, reach, noiseN)
  const { lowN, highN } = breakPoint({
    ...{ timeS, loadN, base, baseTo, from, to, span: thoughtSpan, periodS: PERIOD_S, jitterS: 0 },
    after: lineAfter(timeS, loadN, to, SAMPLES - 1, noiseN, LINE_SAMPLES),
    ...{ noiseN, paceNPerS: PACE_N_PER_S, changesPerS, corner: false, chain: chain ?? 0, cascade: false },
  })
  return { topN, lowN, highN }
}

const LINE_SAMPLES = 8

function withPrior<T>(prior: string, value: number, run: () => T): T {
  const values = coursePriors as Record<string, number>
  const before = values[prior]!
  try {
    values[prior] = value
    return run()
  } finally {
    values[prior] = before
  }
}

describe('the interval of the force at a break', () => {
  test('holds the quantiles of an instant of which nothing is known', () => {
    // Two points say only between which of them it broke: the force may have grown by anything up to 1 N.
    const { both, widthN } = coverage({ span: 0, noiseN: 0.005, changesPerS: 0 })
    expect(both).toBeGreaterThan(0.82)
    expect(widthN).toBeLessThan(1)
  })

  const narrow = ({ widthN }: Coverage): boolean => widthN < 2
  const covers = ({ both }: Coverage): boolean => both >= 0.95
  const holdsMost = ({ both }: Coverage): boolean => both >= 0.7
  const notBelow = ({ high }: Coverage): boolean => high >= 0.9

  /** What goes as the prior says is held with it and is not without it. */
  const DECIDES: readonly (readonly [string, Case, (told: Coverage) => boolean])[] = [
    ['unseenPace', { span: 1, noiseN: 0.1, changesPerS: 1, bend: 30 }, covers],
    ['bend', { span: 1, noiseN: 0.1, changesPerS: 0.4, bend: -10 }, covers],
    ['changesMost', { span: 1, noiseN: 0.1, changesPerS: 1, bend: 30 }, covers],
    ['changesResting', { span: 1, noiseN: 0.02, changesPerS: 0.2, rest: true }, holdsMost],
    ['spanLag', { span: 2, thoughtSpan: 3, noiseN: 0.02, changesPerS: 0 }, covers],
    ['shapeBlur', { span: 2, thoughtSpan: 3, noiseN: 0.02, changesPerS: 0 }, narrow],
    ['chainBlur', { span: 1, noiseN: 0.02, changesPerS: 0, chain: 0.3 }, notBelow],
  ]
  test.each(DECIDES)('needs %s', (prior, of, isRight) => {
    expect(isRight(coverage(of)), JSON.stringify(coverage(of))).toBe(true)
    const without = withPrior(prior, 0, () => coverage(of))
    expect(isRight(without), JSON.stringify(without)).toBe(false)
  })

  test.each([
    ['chainRate', 0.05],
    ['chainMost', 0.1],
  ])('needs %s: two breaks explain a fall that no single one does', (prior, periodS) => {
    // Averaged over two periods a single break leaves a sample about halfway; here the one after the top still rises.
    const loadN = Float64Array.from({ length: 40 }, (_, i) => (i < 25 ? i : i === 25 ? 24.5 : 10))
    const timeS = loadN.map((_, i) => i * periodS)
    const highN = (): number =>
      measureDrop(
        timeS,
        loadN,
        { from: 24, to: 26 },
        {
          ...{ pull: 0, first: 0, last: 39, span: 2, noiseN: 0.02, quantumN: 0, periodS, jitterS: 0 },
          ...{
            thresholdN: 0.5,
            leastDropN: 0.5,
            ratio: 10,
            amongTeeth: false,
            courses: new WeighedCourses(),
          },
        },
      )!.highN
    expect(withPrior(prior, 0, highN) - highN()).toBeGreaterThan(0.5)
  })

  test('each of these priors is asked for', () => {
    const named = new Set([...DECIDES.map(([prior]) => prior), 'chainRate', 'chainMost'])
    expect(Object.keys(COURSE_PRIORS).filter(prior => !named.has(prior))).toEqual([])
  })
})

test('the interval of a round top holds its height', () => {
  const random = seeded(5)
  let held = 0
  for (let run = 0; run < RUNS; run++) {
    const topS = 1.5 + PERIOD_S * random.next()
    const timeS = Float64Array.from({ length: 60 }, (_, i) => (i + 1) * PERIOD_S)
    const loadN = timeS.map(t => 50 - 8 * (t - topS) ** 2 + random.normal(0, 0.1))
    const options = { from: 0, to: 60, span: 1, periodS: PERIOD_S, jitterS: 0, noiseN: 0.1 }
    const { lowN, highN } = topPoint(timeS, loadN, loadN.indexOf(Math.max(...loadN)), options)
    if (lowN <= 50 && highN >= 50) held++
  }
  expect(held / RUNS).toBeGreaterThan(0.93)
})
