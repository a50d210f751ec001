const strict = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true })
const western = new TextDecoder('windows-1252')

/**
 * Text of a span of bytes. Where it is not UTF-8 after all, as a degree sign may not be, each byte is a
 * western character.
 */
export function decodeSpan(bytes: Uint8Array, from: number, to: number): string {
  const span = bytes.subarray(from, to)
  if (span.length < 200 && span.every(byte => byte < 128)) return String.fromCharCode(...span)
  try {
    return strict.decode(span)
  } catch {
    return western.decode(span)
  }
}
