/**
 * Whether a TrueType font has a letter for a code point: its `cmap` table in format 4, which holds the first
 * plane (OpenType, “cmap – Character to Glyph Index Mapping Table”).
 */
export function lettersOf(font: Uint8Array): (codePoint: number) => boolean {
  const view = new DataView(font.buffer, font.byteOffset, font.byteLength)
  const at = format4(view, tableAt(view, 'cmap'))
  const segments = view.getUint16(at + 6) / 2
  const ends = at + 14
  const starts = ends + 2 * segments + 2
  const deltas = starts + 2 * segments
  const offsets = deltas + 2 * segments
  return codePoint => {
    if (codePoint > 0xfffe) return false
    for (let i = 0; i < segments; i++) {
      if (codePoint > view.getUint16(ends + 2 * i)) continue
      const start = view.getUint16(starts + 2 * i)
      if (codePoint < start) return false
      const offset = view.getUint16(offsets + 2 * i)
      const glyph =
        offset === 0 ? codePoint : view.getUint16(offsets + 2 * i + offset + 2 * (codePoint - start))
      return glyph !== 0 && ((glyph + view.getUint16(deltas + 2 * i)) & 0xffff) !== 0
    }
    return false
  }
}

function tableAt(view: DataView, name: string): number {
  for (let i = 0; i < view.getUint16(4); i++) {
    const record = 12 + 16 * i
    const tag = [0, 1, 2, 3].map(k => String.fromCharCode(view.getUint8(record + k))).join('')
    if (tag === name) return view.getUint32(record + 8)
  }
  throw new Error(`the font has no table ${name}`)
}

function format4(view: DataView, cmap: number): number {
  for (let i = 0; i < view.getUint16(cmap + 2); i++) {
    const at = cmap + view.getUint32(cmap + 4 + 8 * i + 4)
    if (view.getUint16(at) === 4) return at
  }
  throw new Error('the font has no map of the first plane')
}
