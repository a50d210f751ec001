import { describe, expect, test } from 'vitest'
import { matchPattern } from '../../../src/publish/sync/matchPattern.ts'
import type { Moment } from '../../../src/publish/sync/moments.ts'
import { matchMany } from './manyScenes.ts'
import { pretendScene, type SceneSpec } from './scenes.ts'

const SPEC: SceneSpec = {
  rateHz: 80,
  taps: 3,
  breaks: 3,
  tapHeard: 1,
  breakHeard: 1,
  extraHz: 0.2,
  lengthS: 90,
  ppm: 0,
  absent: false,
  tickS: null,
  decoys: 0,
}
const matched = (seed: number, change: Partial<SceneSpec>) => {
  const scene = pretendScene(seed, { ...SPEC, ...change })
  return { scene, match: matchPattern(scene.moments, scene.transientS, scene.lengthS) }
}

/** The scenes vary sampling, taps, breaks, what is heard, extra clicks, clock rate, ticks, decoys and clips of something else. */
test('1,000 scenes: confident ones are within 20 ms in 95 %, none is wrong by over 100 ms', () => {
  const tally = matchMany(0, 1_000)
  // Being silent is no way of being right.
  expect(tally.confident).toBeGreaterThan(330)
  expect(tally.wrong).toBe(0)
  expect(tally.within20ms / tally.confident).toBeGreaterThanOrEqual(0.95)
  expect(tally.within20msAtStart / tally.confident).toBeGreaterThanOrEqual(0.95)
  expect(tally.withinDoubt / tally.confident).toBeGreaterThanOrEqual(0.93)
})

test('a usual clip (three taps, 80 readings a second, few other clicks) is nearly always confident', () => {
  let confident = 0
  for (let seed = 0; seed < 100; seed++) if (matched(seed, {}).match?.confident) confident++
  expect(confident).toBeGreaterThanOrEqual(95)
})

describe('says that it is not confident', () => {
  const at = (...times: number[]): Moment[] =>
    times.map(atS => ({ what: 'tap' as const, atS, standardS: 0.0036 }))
  const clicks = (...times: number[]) => Float64Array.from(times)

  test('one click, or none', () => {
    expect(matchPattern(at(1, 1.5, 2.2), clicks(4), 60)).toBeNull()
    expect(matchPattern(at(1, 1.5, 2.2), clicks(), 60)).toBeNull()
    expect(matchPattern(at(1), clicks(4, 4.5, 5.2), 60)).toBeNull()
  })
  test('two clicks, though they fit', () => {
    const match = matchPattern(at(1, 1.5, 2.2), clicks(4, 4.5), 60)
    expect(match?.confident).toBe(false)
  })
  test('a pattern that is there twice', () => {
    const match = matchPattern(at(1, 1.5, 2.2), clicks(4, 4.5, 5.2, 24, 24.5, 25.2), 60)
    expect(match?.confident).toBe(false)
    expect(match?.confidence).toBeCloseTo(0.5, 1)
  })
  test('even taps in an even tick', () => {
    const ticks = Float64Array.from({ length: 100 }, (_, i) => 0.3 + 0.5 * i)
    expect(matchPattern(at(1, 1.5, 2, 2.5), ticks, 60)?.confident).toBe(false)
  })
  test('a clip of something else', () => {
    for (let seed = 0; seed < 100; seed++)
      expect(matched(seed, { absent: true, decoys: 3, extraHz: 1 }).match?.confident ?? false).toBe(false)
  })
  test('a slow log with few sounds: it fits, but no better than to a tenth of a second', () => {
    const { match } = matched(1, { rateHz: 10, breaks: 1, extraHz: 0 })
    expect(match?.confident).toBe(false)
    // A frame at 30 a second: what is known to less than that is good enough for a film.
    expect(match?.uncertaintyS).toBeGreaterThan(1 / 30)
  })
})

test('the clock rate comes back within its doubt, from a long pull', () => {
  for (const ppm of [-200, 200, 600]) {
    const times = Array.from({ length: 12 }, (_, i) => 10 + 55 * i + (i % 3))
    const moments = times.map(atS => ({ what: 'break' as const, atS, standardS: 0.0036 }))
    const transientS = Float64Array.from(times, t => 7.5 + t * (1 + ppm * 1e-6))
    const match = matchPattern(moments, transientS, 700)
    expect(match?.confident).toBe(true)
    expect(Math.abs((match?.ratePpm ?? 0) - ppm)).toBeLessThan(match?.rateUncertaintyPpm ?? 0)
  }
})

test('one recording, two clips: each is laid by the part that it holds', () => {
  const { scene } = matched(5, { breaks: 14, extraHz: 0, lengthS: 180 })
  for (const [fromS, toS] of [
    [0, scene.offsetS + scene.moments[8]!.atS + 0.1],
    [scene.offsetS + scene.moments[8]!.atS + 0.1, 180],
  ] as const) {
    const inClip = scene.transientS.filter(t => t >= fromS && t < toS).map(t => t - fromS)
    const match = matchPattern(scene.moments, inClip, toS - fromS)
    expect(match?.confident).toBe(true)
    expect(match!.anchor.clipS - match!.anchor.recordingS).toBeCloseTo(scene.offsetS - fromS, 1)
    expect(match?.unheard).toEqual([])
  }
})
