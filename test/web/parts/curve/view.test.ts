import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { around, isWhole, panned, viewByKey, within, zoomed } from '../../../../src/web/parts/curve/view.ts'

const whole = { from: 10, to: 110 }

describe('within', () => {
  test('moves a view that hangs over an end back in, as wide as it was', () => {
    expect(within({ from: 0, to: 20 }, whole)).toEqual({ from: 10, to: 30 })
    expect(within({ from: 100, to: 120 }, whole)).toEqual({ from: 90, to: 110 })
  })
  test('a view wider than the whole is the whole', () => {
    expect(within({ from: -500, to: 500 }, whole)).toEqual(whole)
  })
})

test('zooming leaves what is pointed at where it is', () => {
  const closer = zoomed({ from: 20, to: 60 }, whole, 2, 30)
  expect(closer).toEqual({ from: 25, to: 45 })
  expect((30 - closer.from) / (closer.to - closer.from)).toBeCloseTo((30 - 20) / 40)
})

test('panning stops at the ends', () => {
  expect(panned({ from: 20, to: 40 }, whole, 0.5)).toEqual({ from: 30, to: 50 })
  expect(panned({ from: 20, to: 40 }, whole, -5)).toEqual({ from: 10, to: 30 })
})

test('a closer look leaves room on both sides', () => {
  const view = around({ from: 50, to: 60 }, whole, 0.5)
  expect(view).toEqual({ from: 45, to: 65 })
})

describe('keys', () => {
  const view = { from: 40, to: 60 }
  test.each([
    ['ArrowLeft', false, 38, 58],
    ['ArrowRight', false, 42, 62],
    ['ArrowRight', true, 56, 76],
    ['Home', false, 10, 30],
    ['End', false, 90, 110],
    ['0', false, 10, 110],
  ])('%s (far: %s) shows %d to %d', (key, far, from, to) => {
    expect(viewByKey(key, far, view, whole)).toEqual({ from, to })
  })
  test('plus and minus are each other undone', () => {
    const closer = viewByKey('+', false, view, whole)!
    expect(closer.to - closer.from).toBeLessThan(20)
    const back = viewByKey('-', false, closer, whole)!
    expect(back.from).toBeCloseTo(40)
    expect(back.to).toBeCloseTo(60)
  })
  test('another key is not the curve’s', () => {
    expect(viewByKey('a', false, view, whole)).toBeNull()
  })
})

test('whatever is pressed in whatever order, the view lies in the whole and is not empty', () => {
  const keys = ['ArrowLeft', 'ArrowRight', 'PageUp', 'PageDown', 'Home', 'End', '+', '-', '0']
  fc.assert(
    fc.property(fc.array(fc.tuple(fc.constantFrom(...keys), fc.boolean()), { maxLength: 60 }), pressed => {
      let view = whole
      for (const [key, far] of pressed) view = viewByKey(key, far, view, whole) ?? view
      expect(view.from).toBeGreaterThanOrEqual(whole.from)
      expect(view.to).toBeLessThanOrEqual(whole.to + 1e-9)
      expect(view.to).toBeGreaterThan(view.from)
    }),
  )
})

test('the whole is told from a part of it', () => {
  expect(isWhole(whole, whole)).toBe(true)
  expect(isWhole({ from: 10, to: 109 }, whole)).toBe(false)
})
