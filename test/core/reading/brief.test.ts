import { expect, test } from 'vitest'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import type { Recording } from '../../../src/core/recording.ts'

/** What is over in a moment: shots, snatches, falls. */

const recordingOf = (rateHz: number, forceN: Float64Array): Recording => ({
  ...{ name: 'brief', sha256: '', forceN, timeS: forceN.map((_, k) => k / rateHz) },
  ...{ forceUnit: 'N', timeFrom: 'column', channels: [], notes: [], assumptions: [], understood: '' },
  segments: [{ from: 0, to: forceN.length, began: 'start', name: 'brief', sha256: '', shiftS: 0 }],
})

const noiseN = (k: number): number => 0.05 * Math.sin(7 * k) + 0.04 * Math.sin(3.3 * k)

/** A minute of rest with a half sine of 100 N at 30 s that lasts `lastsS`. */
const withPulse = (rateHz: number, lastsS: number): Float64Array =>
  Float64Array.from({ length: 60 * rateHz }, (_, k) => {
    const share = (k / rateHz - 30) / lastsS
    return (share > 0 && share < 1 ? 100 * Math.sin(Math.PI * share) : 0) + noiseN(k)
  })

test('a pull that is shorter than a knock is one where nothing lasts longer', () => {
  const reading = readRecording(recordingOf(80, withPulse(80, 0.3)))
  expect(reading.pulls).toHaveLength(1)
  expect(reading.results.peakForce.valueN).toBeGreaterThan(98.5)
  expect(reading.results.peakForce.valueN).toBeLessThan(100.5)
})

test('a few readings of it, or hardly more than the noise, are a knock', () => {
  expect(readRecording(recordingOf(80, withPulse(80, 0.08))).results.peakForce.status).toBe('no-pull')
  const faint = withPulse(80, 0.3).map((n, k) => (k > 30 * 80 && k < 30.3 * 80 ? 0.01 * n : n))
  expect(readRecording(recordingOf(80, faint)).results.peakForce.status).toBe('no-pull')
})

test('beside a pull that lasts and reaches higher, a brief one is a knock', () => {
  const both = withPulse(80, 0.3).map((n, k) => n + (k > 40 * 80 && k < 45 * 80 ? 150 : 0))
  const { pulls } = readRecording(recordingOf(80, both))
  expect(pulls.map(p => Math.round(p.startS))).toEqual([40])
})

test('a fall into a rope is the greatest force, though what hangs there afterwards lasts longer', () => {
  const both = withPulse(80, 0.3).map((n, k) => n + (k > 40 * 80 && k < 45 * 80 ? 50 : 0))
  const { pulls, results } = readRecording(recordingOf(80, both))
  expect(pulls.map(p => Math.round(p.startS))).toEqual([30, 40])
  expect(results.peakForce.valueN).toBeGreaterThan(98.5)
})

test('the block means of a fast recording hide no reading of the top', () => {
  // At 5,000 readings a second twenty are averaged: a top that is four wide stands a fifth as high in the mean.
  const rateHz = 5000
  const forceN = Float64Array.from({ length: 6 * rateHz }, (_, k) => {
    const t = k / rateHz
    const slow = t < 2 || t > 4 ? 0 : 40 * Math.sin((Math.PI * (t - 2)) / 2)
    const away = Math.abs(k - 3 * rateHz)
    return slow + (away < 4 ? 60 * (1 - away / 4) : 0) + noiseN(k)
  })
  const { valueN, lowN, highN, indicatedN, atS } = readRecording(recordingOf(rateHz, forceN)).results
    .peakForce
  const greatest = forceN.reduce((a, b) => Math.max(a, b))
  expect(valueN).toBeGreaterThan(99.5)
  expect(valueN).toBeLessThan(100.5)
  expect(lowN).toBeLessThan(100.05)
  expect(highN).toBeGreaterThan(100)
  expect(indicatedN).toBeCloseTo(greatest, 6)
  expect(atS).toBeCloseTo(3, 3)
})

test('the noise of a fast recording adds nothing to its peak', () => {
  // Normal noise by the Box–Muller method from a fixed sequence.
  let seed = 7
  const uniform = (): number => {
    seed = (Math.imul(seed, 1103515245) + 12345) & 0x7fffffff
    return (seed + 0.5) / 0x80000000
  }
  const rateHz = 2000
  const forceN = Float64Array.from({ length: 8 * rateHz }, (_, k) => {
    const t = k / rateHz
    const slow = t < 2 || t > 6 ? 0 : 100 * Math.sin((Math.PI * (t - 2)) / 4)
    return slow + 0.5 * Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform())
  })
  const { valueN } = readRecording(recordingOf(rateHz, forceN)).results.peakForce
  expect(valueN).toBeGreaterThan(99.4)
  expect(valueN).toBeLessThan(100.9)
})
