import { describe, expect, test } from 'vitest'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import { recordingOf } from './recordingOf.ts'

/** Shapes of records that other rigs make: each read as a careful eye would. */

/** Normal noise of standard deviation 1, by the Box–Muller method from a fixed sequence. */
function noise(seed: number): () => number {
  let state = seed
  const uniform = (): number => {
    state = (Math.imul(state, 1103515245) + 12345) & 0x7fffffff
    return (state + 0.5) / 0x80000000
  }
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform())
}

const read = (rateHz: number, lastsS: number, forceN: (s: number) => number) =>
  readRecording(
    recordingOf(
      Float64Array.from({ length: lastsS * rateHz }, (_, k) => forceN(k / rateHz)),
      rateHz,
    ),
  )

describe('an empty cell that was never tared', () => {
  test.each([0, 0.03])('drifting by %d N a second: nothing was pulled', drift => {
    const random = noise(5)
    const { results, pulls } = read(10, 50, s => 5.4 + drift * 0.2 * s + 0.1 * random())
    expect(results.peakForce.status).toBe('no-pull')
    expect(results.peakForce.valueN).toBeNull()
    expect(pulls).toEqual([])
  })
  test('with a loading in the record something was', () => {
    const random = noise(5)
    const { results } = read(10, 50, s => 5.4 + Math.max(0, s - 40) + 0.1 * random())
    expect(results.peakForce.status).not.toBe('no-pull')
  })
})

describe('a peel that swings by a tenth for a minute', () => {
  const random = noise(3)
  const { results } = read(20, 80, s => {
    const swing = 1 + 0.1 * Math.sin((2 * Math.PI * s) / 0.45)
    const peel = s < 4 || s > 72 ? 0 : s < 7 ? (20 * (s - 4)) / 3 : 20 * swing
    return peel + 0.02 * random()
  })
  test('reached what it was seen to reach: the cell by itself is quiet', () => {
    const { valueN, highN } = results.peakForce
    expect(valueN).toBeGreaterThan(21.6)
    expect(valueN).toBeLessThan(22.1)
    expect(highN).toBeGreaterThanOrEqual(21.9)
  })
})

describe('a rest at nought that goes over into a soft loading', () => {
  test('is the empty cell', () => {
    const random = noise(11)
    const { results } = read(28, 130, s => {
      if (s < 3.5) return random()
      return s < 120 ? 3000 * ((s - 3.5) / 116.5) ** 1.8 + random() : 300 + random()
    })
    expect(results.peakForce.zero).toBe('seen')
  })
})

describe('a hold of two minutes that relaxes', () => {
  const held = (s: number): number => 100 - 35 * (1 - Math.exp(-(s - 8) / 20))
  const shape = (letDownS: number) => {
    const random = noise(2)
    return read(10, 140, s => {
      const n = 0.05 * random()
      if (s < 4 || s > 128 + letDownS) return n
      if (s < 8) return 25 * (s - 4) + n
      return s < 128 ? held(s) + n : held(128) * (1 - (s - 128) / letDownS) + n
    })
  }
  test('and is let down in three seconds did not break', () => {
    expect(shape(3).pulls.map(p => p.ends)).toEqual(['unload'])
  })
  test('and is gone between two readings broke', () => {
    expect(shape(0.05).pulls.map(p => p.ends)).toEqual(['break'])
  })
})
