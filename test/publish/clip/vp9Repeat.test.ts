import { expect, test } from 'vitest'
import { vp9Repeat } from '../../../src/publish/clip/vp9Repeat.ts'

/** The head of a frame from its bits, as VP9 Bitstream & Decoding Process Specification 0.6, section 6.2, lists them. */
const frame = (bits: string): Uint8Array => {
  const digits = bits.replaceAll(' ', '').padEnd(32, '0')
  return Uint8Array.from({ length: digits.length / 8 }, (_, i) =>
    Number.parseInt(digits.slice(8 * i, 8 * i + 8), 2),
  )
}

test.each([
  ['a picture that stands by itself is in every slot', '10 00 0 0 1 0', 0b1000_1000],
  ['the lowest slot that takes it is shown', '10 00 0 1 1 0 00 00000100', 0b1000_1010],
  ['without the two bits that error resilience leaves out', '10 00 0 1 1 1 10000000', 0b1000_1111],
  ['in its own profile', '10 10 0 1 1 0 00 00000001', 0b1010_1000],
])('%s', (_, bits, byte) => {
  expect([...vp9Repeat(frame(bits))!]).toEqual([byte])
})

test.each([
  ['goes into no slot', '10 00 0 1 1 0 00 00000000'],
  ['is not shown', '10 00 0 1 0 0 0 00 00000001'],
  ['shows another again', '10 00 1 010'],
  ['is no frame of VP9', '01 00 0 1 1 0 00 00000001'],
])('one that %s cannot be shown again', (_, bits) => {
  expect(vp9Repeat(frame(bits))).toBeNull()
})
