import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { barePicture } from '../../../src/logs/picture/barePicture.ts'
import { exifOrientation } from '../../../src/logs/picture/orientation.ts'
import { jpeg, png, webp } from './pictures.ts'

const text = (bytes: Uint8Array | undefined) => Buffer.from(bytes ?? []).toString('latin1')

describe.each([
  ['JPEG', jpeg(), 'image/jpeg'],
  ['PNG', png(), 'image/png'],
  ['WebP', webp(), 'image/webp'],
])('%s', (_, picture, mime) => {
  test('loses place, time, camera and what follows its end, and keeps what shows it', () => {
    const bare = barePicture(picture)
    expect(bare?.mime).toBe(mime)
    for (const word of ['GPS', 'xmpmeta', 'Photoshop', 'tIME', 'tEXt', 'eXIf', 'EXIF', 'XMP', 'MPF'])
      expect(text(bare?.bytes)).not.toContain(word)
    if (mime !== 'image/png') expect(text(bare?.bytes)).toContain('profile')
  })
  test('a bare picture stays as it is', () => {
    const bare = barePicture(picture)
    expect(Buffer.compare(Buffer.from(barePicture(bare!.bytes)!.bytes), Buffer.from(bare!.bytes))).toBe(0)
  })
  test('cut anywhere it is refused, and never read past', () => {
    const whole = barePicture(picture)!.bytes
    for (let cut = 0; cut < whole.length; cut++) expect(barePicture(whole.subarray(0, cut))).toBeNull()
  })
  test('changed anywhere it never throws', () => {
    fc.assert(
      fc.property(fc.nat(picture.length - 1), fc.nat(255), (at, byte) => {
        const changed = Buffer.from(picture)
        changed[at] = byte
        barePicture(changed)
      }),
      { seed: 6, numRuns: 2000 },
    )
  })
  test('the original is not touched', () => {
    const before = Buffer.from(picture)
    barePicture(picture)
    expect(picture.equals(before)).toBe(true)
  })
})

test.each([true, false])(
  'a JPEG keeps its way up (little-endian: %s), and nothing else of its EXIF',
  little => {
    const bare = barePicture(jpeg({ orientation: 6, little }))
    const at = text(bare?.bytes).indexOf('Exif\0\0')
    expect(at).toBeGreaterThan(0)
    expect(exifOrientation(bare!.bytes.subarray(at + 6))).toBe(6)
    expect(text(bare?.bytes)).not.toContain('GPS')
    expect(text(barePicture(jpeg())?.bytes)).not.toContain('Exif')
  },
)

test('what is no picture is refused', () => {
  expect(barePicture(new Uint8Array())).toBeNull()
  expect(barePicture(Buffer.from('<svg onload="alert(1)"/>'))).toBeNull()
  expect(barePicture(Buffer.from('GIF89a'))).toBeNull()
})

test('a part of a WebP that reaches past the end of the file is refused', () => {
  const whole = Buffer.from(barePicture(webp())!.bytes)
  const at = whole.indexOf('VP8L')
  whole.writeUInt32LE(whole.length, at + 4)
  expect(barePicture(whole)).toBeNull()
})
