import fc from 'fast-check'
import { expect, test } from 'vitest'
import { growingCurve } from '../../../src/web/live/growingCurve.ts'

test('however many samples come, room stays bounded and no extreme is lost', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 1, maxLength: 900 }),
      forces => {
        const curve = growingCurve(16)
        forces.forEach((force, i) => {
          curve.add([i / 10], [force])
        })
        expect(curve.length).toBeLessThanOrEqual(16)
        const seen: number[] = []
        curve.each((_, low, high) => {
          seen.push(low, high)
        })
        expect(Math.max(...seen)).toBe(Math.max(...forces))
        expect(Math.min(...seen)).toBe(Math.min(...forces))
        const drawn = curve.slice(0, forces.length, 4, 0)
        expect(Math.max(...drawn.value)).toBe(Math.max(...forces))
        expect([...drawn.timeS]).toEqual([...drawn.timeS].sort((a, b) => a - b))
      },
    ),
  )
})

test('what a snapshot told already is passed over', () => {
  const curve = growingCurve()
  curve.add([1, 2, 3], [1, 2, 3])
  curve.add([2, 3, 4], [9, 9, 4])
  const { timeS, value } = curve.slice(0, 10, 100, 0)
  expect([...timeS]).toEqual([1, 2, 3, 4])
  expect([...value]).toEqual([1, 2, 3, 4])
})

test('the zero is taken off when it is drawn, and holes break the line', () => {
  const curve = growingCurve()
  curve.add([0, 0.1, 0.2, 5, 5.1], [3, 3, 3, 4, 4])
  const { value } = curve.slice(0, 10, 100, 3)
  expect([...value]).toEqual([0, 0, 0, Number.NaN, 1, 1])
})

test('after forgetting, what follows is kept as finely as at first', () => {
  const curve = growingCurve(8)
  for (let i = 0; i < 100; i++) curve.add([i], [i])
  curve.forget(96)
  const before = curve.length
  curve.add([100, 101, 102], [1, 2, 3])
  expect(curve.length).toBe(before + 3)
  expect(curve.lastS).toBe(102)
})
