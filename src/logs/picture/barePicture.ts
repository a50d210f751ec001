import { bareJpeg } from './jpeg.ts'
import { barePng } from './png.ts'
import { bareWebp } from './webp.ts'

export interface BarePicture {
  readonly mime: 'image/jpeg' | 'image/png' | 'image/webp'
  readonly bytes: Uint8Array
}

/**
 * A picture with only what is needed to show it: pixels, colour profile and the way up. Where it was taken,
 * when, with what and by whom is left out, whichever of EXIF, XMP, IPTC or plain text says it. `null` for
 * what is not a whole JPEG, PNG or WebP.
 */
export function barePicture(bytes: Uint8Array): BarePicture | null {
  if (startsWith(bytes, [0xff, 0xd8, 0xff])) return bare('image/jpeg', bareJpeg(bytes))
  if (startsWith(bytes, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]))
    return bare('image/png', barePng(bytes))
  if (startsWith(bytes, ascii('RIFF')) && startsWith(bytes.subarray(8), ascii('WEBP')))
    return bare('image/webp', bareWebp(bytes))
  return null
}

const bare = (mime: BarePicture['mime'], bytes: Uint8Array | null): BarePicture | null =>
  bytes && { mime, bytes }

const ascii = (text: string): number[] => Array.from(text, letter => letter.charCodeAt(0))

const startsWith = (bytes: Uint8Array, wanted: readonly number[]): boolean =>
  wanted.every((byte, i) => bytes[i] === byte)
