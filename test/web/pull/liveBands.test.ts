import { expect, test } from 'vitest'
import { pretendLines } from '../../../src/capture/pretend/index.ts'
import { readRecording } from '../../../src/core/index.ts'
import { selvedge } from '../../../src/core/reading/selvedge.ts'
import { readLog } from '../../../src/logs/index.ts'
import { growingCurve } from '../../../src/web/live/growingCurve.ts'
import { axisOf, liveStrip } from '../../../src/web/pull/liveBands.ts'
import { good } from '../../store/stores.ts'

/** A curve of straight parts, at 50 samples a second: `[seconds, force at its end]`. */
function curveOf(...parts: readonly (readonly [number, number])[]) {
  const curve = growingCurve()
  let atS = 0
  let atN = 0
  for (const [forS, toN] of parts) {
    for (let t = 0; t < forS; t += 0.02) curve.add([atS + t], [atN + ((toN - atN) * t) / forS])
    atS += forS
    atN = toN
  }
  return curve
}
const PULLED = { pulls: 1, pulling: false }
const kinds = (strip: ReturnType<typeof liveStrip>) => strip.bands.map(({ kind }) => kind)

test('rest, loading and rest again; the strip has no holes and no overlap', () => {
  const curve = curveOf([3, 0], [4, 80], [0.02, 0], [2, 0])
  const strip = liveStrip(curve, { zeroN: 0, capture: PULLED, events: [], restlessN: 0.01 })
  expect(kinds(strip)).toEqual(['rest', 'loading', 'rest'])
  strip.bands.slice(1).forEach((band, i) => {
    expect(band.from).toBe(strip.bands[i]?.to)
  })
  expect(strip.top?.forceN).toBeCloseTo(80, 0)
  expect(strip.top?.atS).toBeCloseTo(7, 1)
  expect(strip.loadingS).toBeCloseTo(3.9, 0)
})

test('before anything has pulled all is rest, however restless; a knock is none', () => {
  const restless = liveStrip(curveOf([2, 0.3]), {
    zeroN: 0,
    capture: { pulls: 0, pulling: false },
    events: [],
    restlessN: 0,
  })
  expect(kinds(restless)).toEqual(['rest'])
  const knocked = curveOf([2, 0], [0.1, 20], [0.1, 0], [2, 0], [3, 80], [0.02, 0], [1, 0])
  expect(kinds(liveStrip(knocked, { zeroN: 0, capture: PULLED, events: [], restlessN: 0.01 }))).toEqual([
    'rest',
    'loading',
    'rest',
  ])
})

test('what was let down by hand is called so, and missing data are a gap', () => {
  const letDown = curveOf([2, 0], [3, 50], [2, 0], [1, 0])
  const events = [{ kind: 'unload' as const, atS: 5.2 }]
  expect(kinds(liveStrip(letDown, { zeroN: 0, capture: PULLED, events, restlessN: 0.01 }))).toEqual([
    'rest',
    'loading',
    'unload',
    'rest',
  ])
  const holed = curveOf([2, 0])
  holed.add([9, 9.02, 9.04], [0, 0, 0])
  expect(kinds(liveStrip(holed, { zeroN: 0, capture: PULLED, events: [], restlessN: 0.01 }))).toEqual([
    'rest',
    'gap',
    'rest',
  ])
})

test('where the force stands still it is a hold, but not where a part let go', () => {
  const held = curveOf([2, 0], [4, 40], [3, 40], [4, 80], [0.02, 0], [2, 0])
  const strip = liveStrip(held, { zeroN: 0, capture: PULLED, events: [], restlessN: 0.01 })
  expect(kinds(strip)).toEqual(['rest', 'loading', 'hold', 'loading', 'rest'])
  const hold = strip.bands[2]!
  expect(hold.from).toBeCloseTo(6, 0)
  expect(hold.to).toBeCloseTo(9, 0)
  expect(strip.loadingS).toBeCloseTo(10.9, 0)
  strip.bands.slice(1).forEach((band, i) => {
    expect(band.from).toBe(strip.bands[i]?.to)
  })
  // A slow turn of the nut is none.
  const slow = curveOf([2, 0], [4, 40], [0.5, 40], [4, 80], [0.02, 0], [2, 0])
  expect(kinds(liveStrip(slow, { zeroN: 0, capture: PULLED, events: [], restlessN: 0.01 }))).not.toContain(
    'hold',
  )
  const broke = { kind: 'partial-break' as const, atS: 6.05 }
  const part = curveOf([2, 0], [4, 40], [0.05, 30], [0.6, 30], [4, 80], [0.02, 0], [2, 0])
  expect(
    kinds(liveStrip(part, { zeroN: 0, capture: PULLED, events: [broke], restlessN: 0.01 })),
  ).not.toContain('hold')
})

test('a re-grip is shown once a reading tells it, rest where its zero was taken: as in the reading’s own selvedge', () => {
  const text = [...pretendLines({ kind: 'strokes', seed: 3 })].map(({ line }) => line).join('\n')
  const log = good(readLog(new TextEncoder().encode(text), 'strokes.csv'))
  const reading = readRecording(log)
  const own = selvedge(log, reading)
  expect(own.map(({ kind }) => kind)).toContain('regrip')
  const curve = growingCurve()
  const toLiveS = 12.5
  curve.add(
    log.timeS.map(t => t + toLiveS),
    log.forceN,
  )
  const live = { pulls: reading.pulls.length, upToS: 1_000, toLiveS, reading, problems: [] }
  const strip = liveStrip(curve, {
    zeroN: reading.zeros[0]?.levelN ?? 0,
    capture: { pulls: reading.pulls.length, pulling: false },
    events: reading.events.flatMap(({ kind, atS }) =>
      kind === 'unload' ? [{ kind, atS: atS + toLiveS }] : [],
    ),
    restlessN: reading.recording.noiseN,
    reading: live,
  })
  const regripS = (bands: readonly { kind: string; from: number; to: number }[]) =>
    bands.reduce((sum, { kind, from, to }) => sum + (kind === 'regrip' ? to - from : 0), 0)
  const ownS = regripS(own.map(({ kind, fromS, toS }) => ({ kind, from: fromS, to: toS })))
  expect(regripS(strip.bands)).toBeGreaterThan(0.7 * ownS)
  expect(regripS(strip.bands)).toBeLessThan(1.3 * ownS)
  strip.bands.slice(1).forEach((band, i) => {
    expect(band.from).toBeCloseTo(strip.bands[i]!.to, 9)
  })
})

test('the axis stands still for a while and always holds the curve', () => {
  const ends = Array.from({ length: 5_000 }, (_, i) => axisOf(3, 3 + i).to)
  ends.forEach((to, i) => {
    expect(to).toBeGreaterThanOrEqual(3 + i)
  })
  expect(new Set(ends).size).toBeLessThan(20)
})
