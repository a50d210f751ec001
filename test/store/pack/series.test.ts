import { readdirSync, readFileSync } from 'node:fs'
import { deflateRawSync } from 'node:zlib'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { N_PER } from '../../../src/core/units/force.ts'
import { packSeries, unpackSeries } from '../../../src/store/pack/series.ts'

const bits = (values: Float64Array) => Array.from(new BigUint64Array(values.slice().buffer))
const roundTrip = (values: Float64Array, factors?: number[]) =>
  unpackSeries(packSeries(values, factors), values.length)

/** Any of the 2^64 patterns: −0, subnormals, infinities and every NaN. */
const anyDouble = fc
  .bigInt({ min: 0n, max: 2n ** 64n - 1n })
  .map(pattern => new Float64Array(BigUint64Array.of(pattern).buffer)[0]!)

describe('packSeries gives back every bit', () => {
  test.each<[string, fc.Arbitrary<number[]>]>([
    ['of any doubles', fc.array(anyDouble, { maxLength: 300 })],
    [
      'of decimals',
      fc.array(
        fc.integer({ min: -1e7, max: 1e7 }).map(n => n / 1000),
        { maxLength: 300 },
      ),
    ],
    [
      'of kilograms-force',
      fc.array(
        fc.integer({ min: -1e6, max: 1e6 }).map(n => (n / 100) * N_PER.kgf),
        { maxLength: 300 },
      ),
    ],
    [
      'of decimals with a few odd ones among them',
      fc
        .array(fc.tuple(fc.integer({ min: -1e6, max: 1e6 }), fc.integer({ min: 0, max: 30 }), anyDouble), {
          maxLength: 400,
        })
        .map(rows => rows.map(([n, odd, double]) => (odd === 0 ? double : n / 100))),
    ],
    ['of large whole numbers', fc.array(fc.integer({ min: -(2 ** 52), max: 2 ** 52 }), { maxLength: 200 })],
  ])('%s', (_, arbitrary) => {
    fc.assert(
      fc.property(arbitrary, numbers => {
        const values = Float64Array.from(numbers)
        expect(bits(roundTrip(values, [N_PER.kgf, 1]))).toEqual(bits(values))
      }),
      { seed: 6, numRuns: 300 },
    )
  })

  test('of −0 among zeros', () => {
    const values = Float64Array.of(0, -0, 0, -0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0)
    expect(bits(roundTrip(values))).toEqual(bits(values))
  })

  test('of times at a rate that is no decimal', () => {
    const values = Float64Array.from({ length: 5000 }, (_, i) => i / 30)
    const packed = packSeries(values)
    expect(packed[0]).toBe(1)
    expect(bits(unpackSeries(packed, values.length))).toEqual(bits(values))
  })
})

test('damaged bytes are told, never read past', () => {
  const packed = packSeries(Float64Array.from({ length: 50 }, (_, i) => i / 10))
  expect(() => unpackSeries(packed.subarray(0, packed.length - 3), 50)).toThrow(RangeError)
  expect(() => unpackSeries(packed, 49)).toThrow(RangeError)
  expect(() => unpackSeries(Uint8Array.of(9, 1, 2), 1)).toThrow('unknown way')
  expect(() => unpackSeries(Uint8Array.of(2, 1, 2), 1)).toThrow(RangeError)
})

describe('typical records take at most 40 % of 16 bytes a sample', () => {
  const folder = new URL('../../records/', import.meta.url)
  const files = readdirSync(folder).filter(name => /^[a-z-]+-\d\.csv$/.test(name))
  test.each(files)('%s', name => {
    const rows = readFileSync(new URL(name, folder), 'utf8').trim().split('\n').slice(1)
    const cells = rows.map(row => row.split(',').map(Number))
    const timeS = Float64Array.from(cells, row => row[0]!)
    const forceN = Float64Array.from(cells, row => row[1]! * N_PER.kgf)
    const size =
      deflateRawSync(packSeries(timeS)).length + deflateRawSync(packSeries(forceN, [N_PER.kgf, 1])).length
    expect(size / (16 * timeS.length)).toBeLessThan(0.4)
  })
  test('a converter of 24 bits whose lowest nine are noise, timed in microseconds', () => {
    let state = 7
    const noise = () => {
      state = (Math.imul(state, 1_103_515_245) + 12_345) >>> 0
      return state / 2 ** 32 - 0.5
    }
    const counts = Float64Array.from({ length: 20_000 }, (_, i) =>
      Math.round(84_000 + 300 * i + 512 * noise()),
    )
    const timeS = Float64Array.from(
      { length: 20_000 },
      (_, i) => Math.round(i * 12_500 + 200 * noise()) / 1e6,
    )
    const size = deflateRawSync(packSeries(timeS)).length + deflateRawSync(packSeries(counts)).length
    expect(size / (16 * 20_000)).toBeLessThan(0.4)
  })
})
