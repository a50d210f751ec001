import fc from 'fast-check'
import { expect, test } from 'vitest'
import { frameRateWords, parseFrameRate } from '../../../src/publish/clip/frameRate.ts'
import {
  frameCount,
  frameTimeS,
  listedFrames,
  meanRateHz,
  parseFrameTimes,
  steadyFrames,
} from '../../../src/publish/clip/frameTimes.ts'

test.each([
  ['25', 25, 1],
  ['30000/1001', 30_000, 1001],
  // SMPTE ST 12-1 and camera makers write 30000/1001 so.
  ['29.97', 30_000, 1001],
  ['23.976', 24_000, 1001],
  ['23.98', 24_000, 1001],
  ['59.94', 60_000, 1001],
  ['119.88', 120_000, 1001],
  ['12.5', 25, 2],
  ['50/2', 25, 1],
])('%s frames a second', (word, num, den) => {
  expect(parseFrameRate(word)).toEqual({ num, den })
})

test.each(['', 'x', '0', '-25', '1e2', '30/0', '1000', '0.01', '25 fps'])('“%s” is no rate', word => {
  expect(parseFrameRate(word)).toBeNull()
})

test('a rate is written as it was read', () => {
  expect(frameRateWords({ num: 30_000, den: 1001 })).toBe('30000/1001')
  expect(frameRateWords({ num: 25, den: 1 })).toBe('25')
})

test('frame k of an hour stands at k·1001/30000 s, to the last bit', () => {
  const times = steadyFrames({ num: 30_000, den: 1001 }, 3600)
  expect(frameCount(times)).toBe(107_893)
  // 3600 s · 30000/1001 = 107 892.1: the last frame begins before the end.
  expect(frameTimeS(times, 107_892)).toBe((107_892 * 1001) / 30_000)
  expect(meanRateHz(times)).toBeCloseTo(29.97003, 5)
})

test('a clip has every frame that begins before its end, and no other', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 240 }), fc.integer({ min: 1, max: 50_000 }), (hz, ms) => {
      const times = steadyFrames({ num: hz, den: 1 }, ms / 1000)
      const count = frameCount(times)
      expect(frameTimeS(times, count - 1)).toBeLessThan(ms / 1000)
      expect(frameTimeS(times, count)).toBeGreaterThan(ms / 1000 - 1e-5)
    }),
  )
})

test('listed times are kept, the last one lasts as long as the one before', () => {
  const read = parseFrameTimes('# times\n0\n0.04,\r\n\n0.1\n', 'times.txt')
  expect(read).toEqual({ ok: true, value: { kind: 'listed', timesS: [0, 0.04, 0.1], endS: 0.16 } })
  expect(read.ok && frameTimeS(read.value, 2)).toBe(0.1)
  expect(read.ok && frameTimeS(read.value, 3)).toBe(0.16)
})

test.each([
  ['0\n0.5\n0.4\n', 'times.txt, line 3'],
  ['0\nhalf\n', 'times.txt, line 2'],
  ['-1\n', 'times.txt, line 1'],
  ['# none\n', 'times.txt'],
])('a list that is none says where: %j', (text, where) => {
  const read = parseFrameTimes(text, 'times.txt')
  expect(read.ok).toBe(false)
  expect(!read.ok && read.problems[0]?.where).toBe(where)
})

test('one frame alone needs an end', () => {
  expect(listedFrames([0], null, 'clip').ok).toBe(false)
  expect(listedFrames([0], 0.5, 'clip')).toEqual({
    ok: true,
    value: { kind: 'listed', timesS: [0], endS: 0.5 },
  })
})
