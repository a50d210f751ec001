import { expect, test, vi } from 'vitest'
import type { Thinned } from '../../../../src/core/signal/pyramid.ts'
import { Slices } from '../../../../src/web/parts/curve/slices.ts'
import type { CurveLine } from '../../../../src/web/parts/curve/types.ts'

const whole = { from: 0, to: 100 }

const points = (from: number, to: number, force = (t: number) => t): Thinned => {
  const timeS = Float64Array.from({ length: 11 }, (_, i) => from + (i * (to - from)) / 10)
  return { timeS, value: timeS.map(force) }
}

/** A line that answers later: each question waits in `asked` until it is answered. */
function lateLine(version: number | string = 1) {
  const asked: {
    from: number
    to: number
    pixels: number
    answer: (points: Thinned) => void
    fail: () => void
  }[] = []
  const line: CurveLine = {
    id: 'a',
    version,
    label: 'a line',
    colour: '--accent',
    widthPx: 1,
    slice: (from, to, pixels) =>
      new Promise((answer, reject) => {
        asked.push({ from, to, pixels, answer, fail: () => reject(new Error('gone')) })
      }),
  }
  return { line, asked }
}

test('a line that answers at once is there at once, with its range', () => {
  const slices = new Slices(() => {})
  const line: CurveLine = { ...lateLine().line, slice: (from, to) => points(from, to) }
  slices.want([line], whole, whole, 100)
  expect(slices.best(whole)[0]?.slice).toMatchObject({ from: 0, to: 100 })
  expect(slices.range()).toEqual([0, 100])
})

test('the whole is asked for first, then the view with as much again on either side', async () => {
  const changed = vi.fn()
  const { line, asked } = lateLine()
  const slices = new Slices(changed)
  slices.want([line], whole, { from: 40, to: 50 }, 100)
  expect(asked).toMatchObject([{ from: 0, to: 100, pixels: 100 }])
  asked[0]?.answer(points(0, 100))
  await vi.waitFor(() => expect(asked).toHaveLength(2))
  expect(asked[1]).toMatchObject({ from: 30, to: 60, pixels: 300 })
  expect(changed).toHaveBeenCalledTimes(1)
  // Until the closer one has come the whole stands for it.
  expect(slices.best({ from: 40, to: 50 })[0]?.slice?.perPixel).toBe(1)
  asked[1]?.answer(points(30, 60))
  await vi.waitFor(() => expect(slices.best({ from: 40, to: 50 })[0]?.slice?.perPixel).toBe(0.1))
})

test('while one question is on its way only the latest view is asked for next', async () => {
  const { line, asked } = lateLine()
  const slices = new Slices(() => {})
  slices.want([line], whole, whole, 100)
  asked[0]?.answer(points(0, 100))
  await vi.waitFor(() => expect(slices.range()).not.toBeNull())
  for (let i = 0; i < 50; i++) slices.want([line], whole, { from: i, to: i + 5 }, 100)
  expect(asked).toHaveLength(2)
  asked[1]?.answer(points(0, 10))
  await vi.waitFor(() => expect(asked).toHaveLength(3))
  expect(asked[2]).toMatchObject({ from: 44, to: 59 })
})

test('another version keeps the old drawing until it is there', async () => {
  const slices = new Slices(() => {})
  slices.want([{ ...lateLine(1).line, slice: (from, to) => points(from, to) }], whole, whole, 100)
  const { line, asked } = lateLine(2)
  slices.want([line], whole, whole, 100)
  expect(slices.best(whole)[0]?.slice?.version).toBe(1)
  asked[0]?.answer(points(0, 100, t => 2 * t))
  await vi.waitFor(() => expect(slices.best(whole)[0]?.slice?.version).toBe(2))
  expect(slices.range()).toEqual([0, 200])
})

test('a question that failed is asked again with the next view', async () => {
  const { line, asked } = lateLine()
  const slices = new Slices(() => {})
  slices.want([line], whole, whole, 100)
  asked[0]?.fail()
  await vi.waitFor(() => {
    slices.want([line], whole, whole, 100)
    expect(asked).toHaveLength(2)
  })
})

test('a line that is gone is forgotten, and nothing comes after the end', async () => {
  const changed = vi.fn()
  const { line, asked } = lateLine()
  const slices = new Slices(changed)
  slices.want([line], whole, whole, 100)
  slices.want([], whole, whole, 100)
  expect(slices.best(whole)).toEqual([])
  slices.end()
  asked[0]?.answer(points(0, 100))
  await Promise.resolve()
  expect(changed).not.toHaveBeenCalled()
})

test('NaN breaks a line and is no force', () => {
  const slices = new Slices(() => {})
  const line: CurveLine = {
    ...lateLine().line,
    slice: () => ({ timeS: Float64Array.of(0, 1, 2), value: Float64Array.of(5, Number.NaN, -3) }),
  }
  slices.want([line], whole, whole, 100)
  expect(slices.range()).toEqual([-3, 5])
})

test('a line that gives all its points at once is asked once, however close it is looked at', () => {
  const slices = new Slices(() => {})
  const slice = vi.fn(() => points(0, 100))
  const line: CurveLine = { ...lateLine().line, isComplete: true, slice }
  slices.want([line], whole, whole, 100)
  for (const from of [10, 40, 70]) slices.want([line], whole, { from, to: from + 1 }, 100)
  expect(slice).toHaveBeenCalledTimes(1)
  expect(slices.best({ from: 40, to: 41 })[0]?.slice).toMatchObject({ from: 0, to: 100 })
  slices.want([{ ...line, version: 2 }], whole, whole, 100)
  expect(slice).toHaveBeenCalledTimes(2)
})
