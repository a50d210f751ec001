/** Table of the CRC-32 of zip files (polynomial 0xEDB88320, reflected; ISO 3309, RFC 1952 section 8). */
const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte
  for (let bit = 0; bit < 8; bit++) rest = rest & 1 ? (rest >>> 1) ^ 0xed_b8_83_20 : rest >>> 1
  return rest
})

/** CRC-32 of bytes, from 0 to 2³² − 1. */
export function crc32(bytes: Uint8Array): number {
  let rest = 0xff_ff_ff_ff
  for (let i = 0; i < bytes.length; i++) rest = TABLE[(rest ^ bytes[i]!) & 0xff]! ^ (rest >>> 8)
  return (rest ^ 0xff_ff_ff_ff) >>> 0
}
