import { describe, expect, test } from 'vitest'
import { makePull, type PretendKind } from '../../../src/capture/pretend/index.ts'
import {
  COURSE_PRIORS,
  DROP_PRIORS,
  dropPriors,
  ELEMENT_PRIORS,
  type Prior,
  ZERO_PRIORS,
  zeroPriors,
} from '../../../src/core/reading/priors.ts'
import type { Quiet } from '../../../src/core/reading/quiet.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import type { ZeroChainInput } from '../../../src/core/reading/zero/chainCosts.ts'
import { zeroChain } from '../../../src/core/reading/zero/zeroChain.ts'
import { recordingOf } from './recordingOf.ts'

/**
 * Every prior must decide something: what no record notices is no knowledge. Those of the elements are asked in
 * elementPriors.test.ts, those of the course about a drop in breakPoint.test.ts.
 */

test('each says what it means, in which unit, and where it comes from', () => {
  const all = [ZERO_PRIORS, DROP_PRIORS, ELEMENT_PRIORS, COURSE_PRIORS].flatMap(of =>
    Object.values<Prior>(of),
  )
  for (const prior of all) {
    expect(prior.value).toBeGreaterThan(0)
    for (const words of [prior.unit, prior.means, prior.from]) expect(words).not.toBe('')
  }
})

/** Zero periods of many shapes: where the record begins, how its end stands, how long and how still. */
function* periods(): Generator<ZeroChainInput> {
  const stretch = (fromS: number, lastsS: number, levelN: number, slopeNPerS = 0): Quiet => ({
    ...{ from: Math.round(fromS * 10), to: Math.round((fromS + lastsS) * 10), fromS, toS: fromS + lastsS },
    ...{ levelN, slopeNPerS, slopeStandardN: 0.002, noiseN: 0.02 },
  })
  for (const endS of [12, 60, 400])
    for (const startN of [null, 0, 0.4, 1.5, 4, 32])
      for (const startS of [0.6, 3, 12])
        for (const endN of [null, 0.6, 2, 5, 12, -1, -3, -9, -30])
          for (const lastsS of [0.4, 1.5, 5, 45])
            for (const slope of [0, -0.02])
              for (const holdN of [null, -20, 25, 60]) {
                if (startN === null && startS !== 3) continue
                if (startS + lastsS > 0.8 * endS) continue
                const quiets = [
                  // Some begin with a stretch that climbs.
                  ...(startN === null ? [] : [stretch(0.2, startS, startN, startS === 3 ? -1.5 * slope : 0)]),
                  ...(holdN === null ? [] : [stretch(0.45 * endS, holdN < 0 ? 0.3 : 0.1 * endS, holdN)]),
                  ...(endN === null ? [] : [stretch(endS - lastsS, lastsS, endN, slope)]),
                ]
                yield {
                  ...{ quiets, startS: 0, endS, first: 0, last: Math.round(endS * 10) },
                  ...{
                    firstN: startN ?? 0,
                    rangeN: 100,
                    greatestN: 90,
                    noiseN: 0.02,
                    quantumN: 0.01,
                    paceNPerS: 0.3,
                  },
                  blocks: [
                    { atS: 0.3 * endS, levelN: 20, lastsS: 0.15 },
                    { atS: 0.4 * endS, levelN: 70, lastsS: 0.15 },
                    { atS: 0.42 * endS, levelN: -2, lastsS: 0.4 },
                  ],
                  priors: zeroPriors,
                }
              }
}

describe('each prior of the zero decides which stretches are rests', () => {
  const inputs = [...periods()]
  const choice = (input: ZeroChainInput): string => zeroChain(input, 0.4 * input.endS).rests.join()
  const now = inputs.map(choice)
  test.each(Object.keys(ZERO_PRIORS) as (keyof typeof ZERO_PRIORS)[])('%s', name => {
    const changed = [0.1, 10].flatMap(times => {
      const isShare = /^(share of records|probability)/.test(ZERO_PRIORS[name].unit)
      const value = isShare ? Math.min(0.95, zeroPriors[name] * times) : zeroPriors[name] * times
      const priors = { ...zeroPriors, [name]: value }
      return inputs.filter((input, i) => choice({ ...input, priors }) !== now[i])
    })
    expect(changed.length).toBeGreaterThan(0)
  })
})

/** A made pull whose reading each prior of the drops decides, at so many times its value. */
const DECIDES: Readonly<
  Record<
    Exclude<keyof typeof DROP_PRIORS, 'stepsShare' | 'tearQuickens' | 'hastens' | 'loadsOn' | 'smallBreak'>,
    readonly [PretendKind, number, number]
  >
> = {
  evenRatio: ['stick-slip', 1, 4],
  sharpness: ['teeth', 10, 0.25],
  abruptRatio: ['teeth', 10, 4],
  smallness: ['teeth', 10, 4],
  smallShare: ['teeth', 10, 4],
  stopShare: ['no-rest', 1, 4],
  tearShare: ['slow-tear', 3, 0.1],
  leftAtEnd: ['no-rest', 1, 4],
  breaksRather: ['stick-slip', 2, 20],
  strengthSpread: ['stick-slip', 1, 20],
  nearSamples: ['slips', 4, 4],
  nearSteps: ['saw-tooth', 7, 4],
  nearTime: ['slips', 4, 4],
}

test.each(Object.entries(DECIDES))('%s decides a reading', (name, [kind, seed, times]) => {
  const { recording, truth } = makePull({ kind, seed })
  const told = () => {
    const { events, pulls, results } = readRecording(recording, { elements: truth.elements })
    const { valueN, highN, status } = results.peakForce
    const rough = [valueN, highN].map(n => n?.toPrecision(3))
    return JSON.stringify([events.map(e => e.kind), pulls.map(p => p.ends), rough, status])
  }
  const now = told()
  expect(withPrior(name, times, told)).not.toBe(now)
})

test('stepsShare decides whether a specimen that fails in a step and then fades broke', () => {
  // Rest, a rise to 100 N, a step to 45 N, and down to nothing as fast as it had risen: 20 readings a second.
  const shape = (k: number): number => {
    if (k < 60 || k >= 500) return 0
    if (k < 260) return (k - 60) / 2
    return k < 300 ? 45 : Math.max(0, (45 * (500 - k)) / 200)
  }
  const forceN = Float64Array.from({ length: 600 }, (_, k) => shape(k) + 0.02 * Math.sin(7 * k))
  const ends = () => readRecording(recordingOf(forceN, 20)).pulls.map(p => p.ends)
  expect(ends()).toEqual(['break'])
  expect(withPrior('stepsShare', 6, ends)).not.toEqual(['break'])
})

test('smallBreak decides whether what carried more afterwards had broken', () => {
  // A catch of 6 N is let go at once, before the specimen is pulled to 100 N and breaks: 20 readings a second.
  const shape = (k: number): number => {
    if (k < 60 || k >= 700 || (k >= 160 && k < 300)) return 0
    return k < 160 ? (6 * (k - 60)) / 100 : (k - 300) / 4
  }
  const forceN = Float64Array.from({ length: 800 }, (_, k) => shape(k) + 0.02 * Math.sin(7 * k))
  const breaks = () => readRecording(recordingOf(forceN, 20)).events.filter(e => e.kind === 'break').length
  expect(breaks()).toBe(1)
  expect(withPrior('smallBreak', 0.5, breaks)).toBe(2)
})

test('hastens decides whether what was held for a minute was let down', () => {
  // Up to 100 N in four seconds, a minute of relaxing to 60 N, and down to nothing within three seconds, evenly.
  const shape = (k: number): number => {
    if (k < 60 || k >= 1400) return 0
    if (k < 140) return (100 * (k - 60)) / 80
    const held = 60 + 40 * Math.exp(-(Math.min(k, 1340) - 140) / 300)
    return k < 1340 ? held : (held * (1400 - k)) / 60
  }
  const forceN = Float64Array.from({ length: 1500 }, (_, k) => shape(k) + 0.02 * Math.sin(7 * k))
  const ends = () => readRecording(recordingOf(forceN, 20)).pulls.map(p => p.ends)
  expect(ends()).toEqual(['unload'])
  expect(withPrior('hastens', 0.5, ends)).toEqual(['break'])
})

test('loadsOn decides whether a small first drop is an upper yield point', () => {
  // 4 % fall within two readings, then the force hardly rises for a while, and hardens slowly to more than before.
  const shape = (k: number): number => {
    if (k < 260) return (80 * k) / 260
    if (k < 262) return 80 - 1.6 * (k - 260)
    return k < 500 ? 76.8 : k < 1400 ? 76.8 + (23 * (k - 500)) / 900 : 99.8
  }
  const forceN = Float64Array.from({ length: 1500 }, (_, k) => shape(k) + 0.02 * Math.sin(7 * k))
  const drops = () => readRecording(recordingOf(forceN, 20)).events.length
  expect(drops()).toBe(0)
  expect(withPrior('loadsOn', 0.1, drops)).toBe(1)
})

test('tearQuickens decides whether a quick descent is a tear', () => {
  // A minute under load, then down within two seconds: faster and faster.
  const shape = (k: number): number => {
    if (k < 60 || k >= 1300) return 0
    if (k < 1260) return Math.min(50, (k - 60) / 4)
    return 50 * (1 - ((k - 1260) / 40) ** 2)
  }
  const forceN = Float64Array.from({ length: 1400 }, (_, k) => shape(k) + 0.02 * Math.sin(7 * k))
  const ends = () => readRecording(recordingOf(forceN, 20)).pulls.map(p => p.ends)
  expect(ends()).toEqual(['break'])
  expect(withPrior('tearQuickens', 4, ends)).toEqual(['unload'])
})

function withPrior<T>(name: string, times: number, read: () => T): T {
  const values = dropPriors as Record<string, number>
  const before = values[name]!
  try {
    values[name] = before * times
    return read()
  } finally {
    values[name] = before
  }
}
