import { joined } from './jpeg.ts'

/** Chunks needed to show the picture (WebP container specification, RFC 9649, section 2). */
const NEEDED = new Set(['VP8 ', 'VP8L', 'VP8X', 'ALPH', 'ANIM', 'ANMF', 'ICCP'])
/** Bits of the VP8X flags that say “has EXIF” and “has XMP”. */
const EXIF_AND_XMP = 0x08 | 0x04

/** A WebP without EXIF, XMP and unknown chunks; `null` where it is not whole. */
export function bareWebp(bytes: Uint8Array): Uint8Array | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  if (bytes.length < 20) return null
  const fileEnd = 8 + view.getUint32(4, true)
  if (fileEnd > bytes.length) return null
  const kept: Uint8Array[] = []
  let pictures = 0
  let at = 12
  while (at + 8 <= fileEnd) {
    const size = view.getUint32(at + 4, true)
    const end = at + 8 + size
    if (end > fileEnd) return null
    const name = String.fromCharCode(...bytes.subarray(at, at + 4))
    if (NEEDED.has(name)) {
      const chunk = new Uint8Array(bytes.subarray(at, Math.min(end + (size % 2), fileEnd)))
      if (name === 'VP8X') chunk[8] = chunk[8]! & ~EXIF_AND_XMP
      if (name === 'VP8 ' || name === 'VP8L' || name === 'ANMF') pictures++
      kept.push(size % 2 === 1 && chunk.length % 2 === 1 ? joined([chunk, Uint8Array.of(0)]) : chunk)
    }
    at = end + (size % 2)
  }
  if (pictures === 0) return null
  const content = joined(kept)
  const head = new Uint8Array(12)
  head.set(bytes.subarray(0, 12))
  new DataView(head.buffer).setUint32(4, content.length + 4, true)
  return joined([head, content])
}
