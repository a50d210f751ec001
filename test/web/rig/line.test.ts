import { expect, test } from 'vitest'
import { seededRandom } from '../../../src/core/statistics/random.ts'
import { readingsOf, recentReadings } from '../../../src/web/rig/line/recentReadings.ts'
import { hasMovedFrom, levelText, steadyNow } from '../../../src/web/rig/line/steady.ts'

/** 80 readings a second: `from` counts, then a swing, then `to` counts, with a noise of 2 counts. */
function hung(from: number, to: number, restS: number) {
  const random = seededRandom(5)
  const n = Math.round((2 + 1 + restS) * 80)
  const timeS = Float64Array.from({ length: n }, (_, i) => i / 80)
  const value = timeS.map(t => {
    const level = t < 2 ? from : t < 3 ? to + 400 * Math.sin(20 * t) * (3 - t) : to
    return Math.round(level + 2 * random.normal())
  })
  return { timeS, value }
}

test('a line that swings is not taken; once it stands its level is', () => {
  const swinging = hung(50_000, 60_000, 0.2)
  expect(steadyNow(swinging.timeS, swinging.value)?.forS ?? 0).toBeLessThan(2)
  const { timeS, value } = hung(50_000, 60_000, 4)
  const steady = steadyNow(timeS, value)!
  expect(steady.level).toBeCloseTo(60_000, 0)
  expect(steady.forS).toBeGreaterThan(3)
  expect(steady.step).toBe(1)
  expect(hasMovedFrom(50_000, steady)).toBe(true)
  expect(hasMovedFrom(steady.level, steady)).toBe(false)
  expect(hasMovedFrom(null, steady)).toBe(true)
})

test('too little says nothing', () => {
  expect(steadyNow(new Float64Array(), new Float64Array())).toBeNull()
  expect(steadyNow(Float64Array.of(0), Float64Array.of(1))).toBeNull()
})

test.each([
  [{ level: 60_000.1234, standard: 0.4 }, '60000.12'],
  [{ level: 1.0203, standard: 0.0005 }, '1.0203'],
  [{ level: 50_000, standard: 0.3 }, '50000'],
  [{ level: 0, standard: 0 }, '0'],
])('a level as a reading: %o', (steady, text) => {
  expect(levelText(steady)).toBe(text)
})

test('keeps the latest seconds in bounded room, and no time twice', () => {
  const recent = recentReadings(8, 100)
  for (let i = 0; i < 5000; i++) recent.add([i / 10, i / 10 + 0.05, i / 10], [i, i, i])
  const { timeS, value } = recent.read()
  expect(timeS.at(-1)).toBeCloseTo(499.95, 9)
  expect(timeS.length).toBeLessThanOrEqual(100)
  expect(timeS[0]).toBeGreaterThanOrEqual(499.95 - 8)
  expect([...timeS].every((t, i) => i === 0 || t > timeS[i - 1]!)).toBe(true)
  expect(value.at(-1)).toBe(4999)
  recent.clear()
  expect(recent.read().timeS).toHaveLength(0)
})

test('readings of a line that was opened again since are not shown', () => {
  const counts = { timeS: Float64Array.of(1, 2), value: Float64Array.of(72_640, 72_640), snapshot: 1 }
  expect(readingsOf(counts, 1).value).toEqual(counts.value)
  expect(readingsOf(counts, 2).value).toHaveLength(0)
  expect(readingsOf(null, 0).value).toHaveLength(0)
})
