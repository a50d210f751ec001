/** Tag 0x0112 of TIFF 6.0 and EXIF: which way up the picture is, 1 (as stored) to 8. */
const ORIENTATION = 0x0112
const SHORT = 3

/** The way up that an EXIF block (from its TIFF header) gives, or `null`. */
export function exifOrientation(tiff: Uint8Array): number | null {
  if (tiff.length < 8) return null
  const view = new DataView(tiff.buffer, tiff.byteOffset, tiff.byteLength)
  const order = view.getUint16(0)
  const little = order === 0x4949
  if (!little && order !== 0x4d4d) return null
  const first = view.getUint32(4, little)
  if (first + 2 > tiff.length) return null
  const entries = view.getUint16(first, little)
  for (let i = 0; i < entries; i++) {
    const at = first + 2 + 12 * i
    if (at + 12 > tiff.length) return null
    if (view.getUint16(at, little) !== ORIENTATION || view.getUint16(at + 2, little) !== SHORT) continue
    const value = view.getUint16(at + 8, little)
    return value >= 1 && value <= 8 ? value : null
  }
  return null
}

/** An EXIF block that says nothing but the way up. */
export function orientationExif(orientation: number): Uint8Array {
  const bytes = new Uint8Array(26)
  const view = new DataView(bytes.buffer)
  view.setUint16(0, 0x4d4d)
  view.setUint16(2, 42)
  view.setUint32(4, 8)
  view.setUint16(8, 1)
  view.setUint16(10, ORIENTATION)
  view.setUint16(12, SHORT)
  view.setUint32(14, 1)
  view.setUint16(18, orientation)
  return bytes
}
