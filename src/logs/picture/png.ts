import { joined } from './jpeg.ts'

/**
 * Chunks needed to show the picture (PNG, third edition, W3C 2025, section 11): pixels, transparency, colour,
 * size, animation.
 */
const NEEDED = new Set(
  'IHDR PLTE IDAT IEND tRNS cHRM gAMA iCCP sRGB sBIT cICP mDCV cLLI bKGD pHYs acTL fcTL fdAT'.split(' '),
)

/**
 * A PNG without text, time, EXIF and private chunks, and without what follows its end; `null` where it is not
 * whole.
 */
export function barePng(bytes: Uint8Array): Uint8Array | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const kept: Uint8Array[] = [bytes.subarray(0, 8)]
  let at = 8
  while (at + 12 <= bytes.length) {
    const end = at + 12 + view.getUint32(at)
    if (end > bytes.length) return null
    const name = String.fromCharCode(...bytes.subarray(at + 4, at + 8))
    if (at === 8 && name !== 'IHDR') return null
    if (NEEDED.has(name)) kept.push(bytes.subarray(at, end))
    if (name === 'IEND') return joined(kept)
    at = end
  }
  return null
}
