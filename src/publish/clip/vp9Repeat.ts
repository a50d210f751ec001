/**
 * A VP9 frame that shows a picture again which the decoder still holds: one byte, where encoding the same
 * picture anew takes as long as a new one. `packet` is the frame that made the picture; `null` where the
 * decoder does not keep it. The head of a frame is read as far as need be: VP9 Bitstream & Decoding Process
 * Specification 0.6, sections 6.2 (`uncompressed_header`) and 7.2 (`show_existing_frame`), profiles 0 to 2.
 */
export function vp9Repeat(packet: Uint8Array): Uint8Array<ArrayBuffer> | null {
  const slot = keptSlot(packet)
  if (slot === null) return null
  const profile = packet[0]! & 0b0011_0000
  return Uint8Array.of(FRAME_MARKER | profile | SHOW_EXISTING | slot)
}

const FRAME_MARKER = 0b1000_0000
const SHOW_EXISTING = 0b0000_1000

/** The slot in which the decoder keeps the picture of a frame, 0 to 7. */
function keptSlot(packet: Uint8Array): number | null {
  const [head = 0, next = 0, last = 0] = packet
  const isFrame = (head & 0b1100_0000) === FRAME_MARKER && (head & 0b0011_0000) !== 0b0011_0000
  if (!isFrame || (head & SHOW_EXISTING) !== 0 || packet.length < 3) return null
  const isKey = (head & 0b100) === 0
  const isShown = (head & 0b10) !== 0
  const isErrorResilient = (head & 1) !== 0
  // One that stands by itself goes into every slot. One that is not shown has other fields, and is no picture
  // of a clip.
  if (isKey) return 0
  if (!isShown) return null
  // Without error resilience two bits come before the eight that say which slots take the picture.
  const refreshed = isErrorResilient ? next : ((next << 2) | (last >> 6)) & 0xff
  for (let slot = 0; slot < 8; slot++) if ((refreshed & (1 << slot)) !== 0) return slot
  return null
}
