import { expect, test } from 'vitest'
import { meanStep, middleStep } from '../../../src/logs/meaning/timeBase.ts'

const every = (count: number, stepS: number, fromS = 0) =>
  Array.from({ length: count }, (_, i) => fromS + i * stepS)
const whole = (timeS: Float64Array) => [{ from: 0, to: timeS.length, began: 'start' as const, shiftS: 0 }]

test('the middle step is that of most samples, whatever the others are', () => {
  expect(middleStep(Float64Array.from([...every(10, 0.1), ...every(10, 0.1, 60)]))).toBeCloseTo(0.1, 12)
  expect(middleStep(Float64Array.of(5))).toBe(0)
})

test('the mean step leaves a gap out, however far the record has gone by then', () => {
  const timeS = Float64Array.from([...every(40, 0.1), ...every(40, 0.1, 64)])
  expect(meanStep(timeS, whole(timeS), 0.1)).toBeCloseTo(0.1, 9)
})

test('of stamps rounded more coarsely than the period only the mean is the period', () => {
  // 16 readings a second, stamped to a tenth.
  const timeS = Float64Array.from({ length: 161 }, (_, i) => Math.round((10 * i) / 16) / 10)
  expect(meanStep(timeS, whole(timeS), 0.1)).toBeCloseTo(1 / 16, 9)
})

test('without two samples in a segment the middle step stands', () => {
  const timeS = Float64Array.of(0, 9)
  const segments = [0, 1].map(from => ({ from, to: from + 1, began: 'start' as const, shiftS: 0 }))
  expect(meanStep(timeS, segments, 0.1)).toBe(0.1)
})
