/** Bytes at a time: so many arguments every engine takes. */
const CHUNK = 0x8000

/** Base64 of bytes, in a page and in Node alike. */
export function base64(bytes: Uint8Array): string {
  let text = ''
  for (let at = 0; at < bytes.length; at += CHUNK)
    text += String.fromCharCode(...bytes.subarray(at, at + CHUNK))
  return btoa(text)
}
