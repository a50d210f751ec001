import { exifOrientation, orientationExif } from './orientation.ts'

/** Markers of ITU-T T.81, table B.1, and of JFIF. */
const APP0 = 0xe0
const APP1 = 0xe1
const APP2 = 0xe2
const APP14 = 0xee
const APP15 = 0xef
const COMMENT = 0xfe
const START_OF_SCAN = 0xda
const END_OF_IMAGE = 0xd9

/**
 * A JPEG without its comments and application segments, except JFIF, colour profile (APP2 `ICC_PROFILE`) and
 * the colour transform (APP14 `Adobe`), which are needed to show it, and the way up, written anew by itself.
 * What follows the end of the image (a second picture, a film) goes too. `null` where it is not a whole JPEG.
 */
export function bareJpeg(bytes: Uint8Array): Uint8Array | null {
  const kept: Uint8Array[] = [bytes.subarray(0, 2)]
  let orientation = 1
  let at = 2
  let scanned = false
  for (;;) {
    if (bytes[at] !== 0xff) return null
    while (bytes[at + 1] === 0xff) at++
    const marker = bytes[at + 1]
    if (marker === undefined) return null
    if (marker === END_OF_IMAGE) {
      if (!scanned) return null
      kept.push(bytes.subarray(at, at + 2))
      break
    }
    if (bytes.length < at + 4) return null
    const end = at + 2 + (bytes[at + 2]! << 8) + bytes[at + 3]!
    if (end < at + 4 || end > bytes.length) return null
    const content = bytes.subarray(at + 4, end)
    if (marker === APP1 && startsWith(content, 'Exif\0\0'))
      orientation = exifOrientation(content.subarray(6)) ?? orientation
    if (isNeeded(marker, content)) kept.push(bytes.subarray(at, end))
    at = end
    if (marker !== START_OF_SCAN) continue
    scanned = true
    const next = endOfScan(bytes, at)
    if (next === null) return null
    kept.push(bytes.subarray(at, next))
    at = next
  }
  if (orientation > 1) kept.splice(afterJfif(kept), 0, exifSegment(orientation))
  return joined(kept)
}

function isNeeded(marker: number, content: Uint8Array): boolean {
  if (marker === APP0) return startsWith(content, 'JFIF\0')
  if (marker === APP2) return startsWith(content, 'ICC_PROFILE\0')
  if (marker === APP14) return startsWith(content, 'Adobe')
  return marker !== COMMENT && !(marker >= APP0 && marker <= APP15)
}

/**
 * Where the next marker stands after a scan: 0xFF that is neither stuffed (0x00) nor a restart (0xD0 to
 * 0xD7).
 */
function endOfScan(bytes: Uint8Array, from: number): number | null {
  for (let at = from; at + 1 < bytes.length; at++) {
    if (bytes[at] !== 0xff) continue
    const next = bytes[at + 1]!
    if (next !== 0 && next !== 0xff && !(next >= 0xd0 && next <= 0xd7)) return at
  }
  return null
}

const afterJfif = (kept: readonly Uint8Array[]): number => (kept[1]?.[1] === APP0 ? 2 : 1)

function exifSegment(orientation: number): Uint8Array {
  const exif = orientationExif(orientation)
  const length = 2 + 6 + exif.length
  return joined([
    Uint8Array.of(0xff, APP1, length >> 8, length & 0xff),
    new TextEncoder().encode('Exif\0\0'),
    exif,
  ])
}

const startsWith = (bytes: Uint8Array, text: string): boolean =>
  Array.from(text).every((letter, i) => bytes[i] === letter.charCodeAt(0))

export function joined(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    whole.set(part, at)
    at += part.length
  }
  return whole
}
