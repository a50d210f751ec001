/**
 * Tables of the CRC-32 of zip files and zlib (polynomial 0xEDB88320, reflected; ISO 3309, RFC 1952 section 8): the first
 * for one byte, each further one for a byte that stands one place ahead, so that four bytes are taken at once.
 */
const TABLES = makeTables()

function makeTables(): readonly [Uint32Array, Uint32Array, Uint32Array, Uint32Array] {
  const one = Uint32Array.from({ length: 256 }, (_, byte) => {
    let rest = byte
    for (let bit = 0; bit < 8; bit++) rest = rest & 1 ? (rest >>> 1) ^ 0xed_b8_83_20 : rest >>> 1
    return rest
  })
  const ahead = (table: Uint32Array): Uint32Array => table.map(rest => (rest >>> 8) ^ one[rest & 0xff]!)
  const two = ahead(one)
  const three = ahead(two)
  return [one, two, three, ahead(three)]
}

/** CRC-32 of bytes, from 0 to 2³² − 1. */
export function crc32(bytes: Uint8Array): number {
  const [one, two, three, four] = TABLES
  let rest = 0xff_ff_ff_ff
  let i = 0
  for (const end = bytes.length - 3; i < end; i += 4) {
    rest ^= bytes[i]! | (bytes[i + 1]! << 8) | (bytes[i + 2]! << 16) | (bytes[i + 3]! << 24)
    rest = four[rest & 0xff]! ^ three[(rest >>> 8) & 0xff]! ^ two[(rest >>> 16) & 0xff]! ^ one[rest >>> 24]!
  }
  for (; i < bytes.length; i++) rest = one[(rest ^ bytes[i]!) & 0xff]! ^ (rest >>> 8)
  return (rest ^ 0xff_ff_ff_ff) >>> 0
}
