import { expect, test } from 'vitest'
import type { Quiet } from '../../../../src/core/reading/quiet.ts'
import { longest } from '../../../../src/core/reading/zero/candidates.ts'

const stretches = (lengths: readonly number[]): Quiet[] =>
  lengths.map((length, i) => ({
    from: 100 * i,
    to: 100 * i + length,
    fromS: 10 * i,
    toS: 10 * i + length / 10,
    levelN: 0,
    slopeNPerS: 0,
    slopeStandardN: 0,
    noiseN: 1,
  }))

test('of many quiet stretches the longest are weighed, and those at either end, in the order of time', () => {
  const lengths = Array.from({ length: 60 }, (_, i) => 10 + ((i * 37) % 60))
  const all = stretches(lengths)
  const kept = longest(all)
  expect(kept).toHaveLength(48)
  expect(kept[0]).toBe(all[0])
  expect(kept.at(-1)).toBe(all.at(-1))
  expect(kept.map(({ from }) => from)).toEqual(kept.map(({ from }) => from).toSorted((a, b) => a - b))
  const inner = all.slice(1, -1)
  const wanted = new Set(inner.toSorted((a, b) => b.toS - b.fromS - (a.toS - a.fromS)).slice(0, 46))
  expect(new Set(kept.slice(1, -1))).toEqual(wanted)
})

test('as many as are weighed stay as they are', () => {
  const all = stretches(Array.from({ length: 48 }, (_, i) => 10 + i))
  expect(longest(all)).toBe(all)
})
