import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../../src/core/statistics/random.ts'
import { envelopeOf, SoundMeter } from '../../../src/publish/sync/soundEnvelope.ts'
import { findTransients, MOST_TRANSIENTS } from '../../../src/publish/sync/transients.ts'
import { clickSound } from './sounds.ts'

function transientsOf(sound: Float32Array, rateHz: number, channels = 1, piece = 4_801) {
  const meter = new SoundMeter(rateHz, channels)
  const step = piece - (piece % channels)
  for (let at = 0; at < sound.length; at += step) meter.push(sound.subarray(at, at + step))
  return findTransients(meter.finish())
}

const clicksOf = (seed: number, count: number, lengthS: number): number[] => {
  const random = seededRandom(seed)
  return Array.from({ length: count }, (_, i) => ((i + 0.2 + 0.6 * random.uniform()) * lengthS) / count)
}

describe.each([48_000, 44_100, 22_050, 16_000, 8_000])('clicks in noise at %i samples a second', rateHz => {
  test('all are found within 3 ms, and hardly anything else', () => {
    const clicksS = clicksOf(rateHz, 20, 20)
    const found = transientsOf(clickSound({ seed: 1, rateHz, lengthS: 20, clicksS }), rateHz)
    for (const clickS of clicksS)
      expect(Math.min(...found.map(t => Math.abs(t.atS - clickS)))).toBeLessThan(0.003)
    expect(found.length).toBeLessThanOrEqual(22)
  })
})

test('faint clicks in loud noise: most are found, and little else', () => {
  const clicksS = clicksOf(3, 40, 40)
  const sound = clickSound({ seed: 3, rateHz: 48_000, lengthS: 40, clicksS, loudness: 0.12, noise: 0.02 })
  const found = transientsOf(sound, 48_000)
  const heard = clicksS.filter(c => found.some(t => Math.abs(t.atS - c) < 0.003))
  expect(heard.length).toBeGreaterThanOrEqual(32)
  expect(found.length - heard.length).toBeLessThanOrEqual(4)
})

test('two channels that cancel each other are still heard', () => {
  const mono = clickSound({ seed: 2, rateHz: 48_000, lengthS: 5, clicksS: [1, 2.5] })
  const stereo = new Float32Array(2 * mono.length)
  for (let i = 0; i < mono.length; i++) {
    stereo[2 * i] = mono[i]!
    stereo[2 * i + 1] = -mono[i]!
  }
  expect(transientsOf(stereo, 48_000, 2).map(t => Math.round(100 * t.atS) / 100)).toEqual([1, 2.5])
})

test('channel by channel, as a browser decodes it, it is the same', () => {
  const left = clickSound({ seed: 2, rateHz: 48_000, lengthS: 3, clicksS: [1, 2.5] })
  const right = clickSound({ seed: 3, rateHz: 48_000, lengthS: 3, clicksS: [1.4] })
  const meter = new SoundMeter(48_000, 2)
  meter.push(Float32Array.from({ length: 2 * left.length }, (_, i) => (i % 2 === 0 ? left : right)[i >> 1]!))
  expect(envelopeOf([left, right], 48_000)).toEqual(meter.finish())
  expect(envelopeOf([], 48_000).lengthS).toBe(0)
})

test('the pieces that a sound comes in do not matter', () => {
  const sound = clickSound({ seed: 5, rateHz: 48_000, lengthS: 5, clicksS: [1, 2, 3] })
  expect(transientsOf(sound, 48_000, 1, 1)).toEqual(transientsOf(sound, 48_000, 1, 1_000_000))
})

test('a click in digital silence is found; silence, a hum and nothing at all have none', () => {
  const silent = new Float32Array(48_000)
  expect(transientsOf(silent, 48_000)).toEqual([])
  expect(transientsOf(new Float32Array(0), 48_000)).toEqual([])
  expect(
    transientsOf(clickSound({ seed: 1, rateHz: 48_000, lengthS: 3, clicksS: [], noise: 0 }), 48_000),
  ).toEqual([])
  silent[24_000] = 0.5
  expect(transientsOf(silent, 48_000).map(t => Math.round(1e4 * t.atS))).toEqual([5_005])
})

test('a loud noise that comes on slowly is no click', () => {
  const random = seededRandom(8)
  const swell = Float32Array.from(
    { length: 4 * 48_000 },
    (_, i) => 0.3 * Math.sin((Math.PI * i) / (4 * 48_000)) ** 2 * random.normal(),
  )
  expect(transientsOf(swell, 48_000)).toEqual([])
})

test('noise that sets in after silence is no click, the clicks in it are', () => {
  const sound = clickSound({ seed: 6, rateHz: 48_000, lengthS: 4, clicksS: [2.2, 3.1] })
  sound.fill(0, 0, 1.63 * 48_000)
  expect(transientsOf(sound, 48_000).map(t => Math.round(100 * t.atS) / 100)).toEqual([2.2, 3.1])
})

test('of a sound that is all clicks only the loudest are kept', () => {
  const energy = Float32Array.from({ length: 500_000 }, (_, i) =>
    i % 50 === 25 ? 1e-3 * (1 + (i % 7)) : 1e-8,
  )
  expect(findTransients({ energy, hopS: 0.001, lengthS: 500 }).length).toBe(MOST_TRANSIENTS)
})
