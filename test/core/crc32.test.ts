import { crc32 as zlibCrc32 } from 'node:zlib'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { crc32 } from '../../src/core/crc32.ts'

test('the check value of this CRC: the nine digits', () => {
  // CRC-32/ISO-HDLC, check of “123456789”: 0xCBF43926 (from memory; zlib below says the same).
  expect(crc32(new TextEncoder().encode('123456789'))).toBe(0xcb_f4_39_26)
})

test('it is zlib’s for any bytes, of every length about the four that are taken at once', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 67 }), bytes => {
      expect(crc32(bytes)).toBe(zlibCrc32(bytes))
    }),
    { seed: 20_261_130, numRuns: 500 },
  )
  const long = Uint8Array.from({ length: 100_003 }, (_, i) => (i * 2_654_435_761) >>> 24)
  expect(crc32(long)).toBe(zlibCrc32(long))
  // A part of a larger array begins anywhere.
  expect(crc32(long.subarray(3, 9_999))).toBe(zlibCrc32(long.subarray(3, 9_999)))
})
