import { expect, test } from 'vitest'
import type { Reading } from '../../../src/core/reading/document.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import type { Recording } from '../../../src/core/recording.ts'

/** How a pull ends, on courses whose cause is plain. Twenty readings a second, a little noise. */

const RATE_HZ = 20
const noiseN = (k: number): number => 0.02 * Math.sin(7 * k) + 0.015 * Math.sin(3.3 * k)

/** A course through corners of time in s and force in N. */
function courseN(corners: readonly (readonly [number, number])[]): Float64Array {
  const endS = corners.at(-1)![0]
  return Float64Array.from({ length: Math.round(endS * RATE_HZ) }, (_, k) => {
    const t = k / RATE_HZ
    const next = corners.findIndex(([at]) => at > t)
    const [[a, fa], [b, fb]] = [corners[next - 1]!, corners[next]!]
    return fa + ((fb - fa) * (t - a)) / (b - a) + noiseN(k)
  })
}

const recordingOf = (timeS: Float64Array, forceN: Float64Array): Recording => ({
  ...{ name: 'course', sha256: '', forceN, timeS },
  ...{ forceUnit: 'N', timeFrom: 'column', channels: [], notes: [], assumptions: [], understood: '' },
  segments: [{ from: 0, to: forceN.length, began: 'start', name: 'course', sha256: '', shiftS: 0 }],
})

const read = (forceN: Float64Array, timeS?: Float64Array): Reading =>
  readRecording(recordingOf(timeS ?? forceN.map((_, k) => k / RATE_HZ), forceN))

const told = ({ pulls, events, results }: Reading) => ({
  ends: pulls.map(p => p.ends),
  events: events.map(e => e.kind),
  status: results.peakForce.status,
})

const loading = [
  [0, 0],
  [3, 0],
  [15, 100],
] as const

test('a record that stops in a fall that quickens has its break, where the fall turns down', () => {
  const reading = read(courseN([...loading, [16, 97], [16.8, 50], [17.2, 20]]))
  expect(told(reading)).toEqual({ ends: ['end-of-record'], events: ['break'], status: 'measured' })
  const [event] = reading.events
  expect(event!.atS).toBeGreaterThan(15.9)
  expect(event!.atS).toBeLessThan(16.2)
  expect(event!.beforeN).toBeGreaterThan(92)
  expect(event!.afterN).toBeGreaterThan(15)
  expect(event!.afterN).toBeLessThan(26)
})

test('a record that stops while a hand lets down evenly has none', () => {
  const reading = read(courseN([...loading, [20, 50], [22, 30]]))
  expect(told(reading)).toEqual({ ends: ['end-of-record'], events: [], status: 'not-reached' })
})

test('a record that stops in a small fall has none', () => {
  const reading = read(courseN([...loading, [16, 98], [16.8, 82]]))
  expect(told(reading)).toEqual({ ends: ['end-of-record'], events: [], status: 'not-reached' })
})

test('a tear slows to nothing quicker at its end, a hand that lets down does not', () => {
  const tear = courseN([...loading, [15.7, 75], [16.1, 45], [16.4, 5], [16.5, 0], [20, 0]])
  expect(told(read(tear))).toMatchObject({ ends: ['break'], status: 'measured' })
  const hand = courseN([...loading, [15.7, 50], [16.5, 0], [20, 0]])
  expect(told(read(hand))).toMatchObject({ ends: ['unload'], status: 'not-reached' })
})

test('a tear that falls by a step on its way is one all the same', () => {
  const tear = courseN([...loading, [75, 100], [79, 80], [81, 62], [81.1, 45], [83.5, 8], [84, 0], [88, 0]])
  expect(told(read(tear))).toMatchObject({ ends: ['break'], events: ['partial-break'], status: 'measured' })
})

test('what little stays after a break is no load that goes on', () => {
  const broken = courseN([...loading, [15.05, 3], [22, 3]])
  expect(told(read(broken))).toEqual({ ends: ['break'], events: ['break'], status: 'measured' })
})

test('a break in a gap stands at the last reading, with no force that was not read', () => {
  const whole = courseN([...loading, [15.05, 0], [20, 0]])
  const kept = [...whole.keys()].filter(k => k < 13.5 * RATE_HZ || k > 16 * RATE_HZ)
  const reading = read(
    Float64Array.from(kept, k => whole[k]!),
    Float64Array.from(kept, k => k / RATE_HZ),
  )
  expect(told(reading)).toEqual({ ends: ['break'], events: ['break'], status: 'at-least' })
  const last = whole[13.5 * RATE_HZ - 1]!
  const [event] = reading.events
  expect(event!.atS).toBeCloseTo(13.5 - 1 / RATE_HZ, 6)
  expect(event!.beforeN).toBeCloseTo(last, 1)
  expect(Math.abs(event!.afterN)).toBeLessThan(0.3)
  expect(reading.results.peakForce.valueN).toBeLessThan(last + 0.1)
})

test.each([
  ['over the top', 9.2, 10.9, 'at-least'],
  ['on the way up', 6, 7, 'measured'],
  ['on the way down', 13, 14, 'measured'],
] as const)('a round top with a gap %s', (_, fromS, toS, status) => {
  // A parabola of 100 N at 10 s, from nothing at 3 s to nothing at 17 s, then a long fading end.
  const shape = (t: number): number => (t < 3 || t > 22 ? 0 : t < 17 ? 100 * (1 - ((t - 10) / 7) ** 2) : 0)
  const all = Array.from({ length: 24 * RATE_HZ }, (_, k) => k)
  const kept = all.filter(k => k / RATE_HZ < fromS || k / RATE_HZ > toS)
  const reading = read(
    Float64Array.from(kept, k => shape(k / RATE_HZ) + noiseN(k)),
    Float64Array.from(kept, k => k / RATE_HZ),
  )
  const { status: said, valueN } = reading.results.peakForce
  expect(valueN).toBeLessThan(100.2)
  if (status === 'at-least') expect(said).toBe('at-least')
  else expect(said).not.toBe('at-least')
})
