import { expect, test } from 'vitest'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import { recordingOf } from './recordingOf.ts'

/** A first small drop: an upper yield point, or a part that broke. Twenty readings a second, a little noise. */

const noiseN = (k: number): number => 0.02 * Math.sin(7 * k) + 0.015 * Math.sin(3.3 * k)

/** Up to 80 N at 6 N/s, a fall to 76 N within two readings, and on from there. */
const read = (onwards: (s: number) => number, elements: number | null = null) => {
  const forceN = Float64Array.from({ length: 1600 }, (_, k) => {
    const s = k / 20
    const fallS = 80 / 6
    return (
      noiseN(k) + (s < fallS ? 6 * s : s < fallS + 0.1 ? 80 - 40 * (s - fallS) : onwards(s - fallS - 0.1))
    )
  })
  return readRecording(recordingOf(forceN, 20), { elements }).results.partialBreaks
}

test('what is stretched on and hardens slowly has yielded', () => {
  expect(read(s => (s < 15 ? 76 : 76 + 0.5 * (s - 15)))).toBe(0)
})

test('what is loaded on at the pace of before, less what went, has lost a part', () => {
  expect(read(s => Math.min(110, 76 + 5.4 * s))).toBe(1)
})

test('a drive that stops at the sound of a crack goes on at its pace later', () => {
  expect(read(s => (s < 15 ? 76 : Math.min(110, 76 + 5.4 * (s - 15))))).toBe(1)
})

test('what never comes to carry more has not hardened', () => {
  expect(read(() => 76)).toBe(1)
})

test('a specimen whose elements are told loses them', () => {
  expect(read(s => (s < 15 ? 76 : 76 + 0.5 * (s - 15)), 20)).toBe(1)
})
