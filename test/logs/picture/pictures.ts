import { crc32, deflateSync } from 'node:zlib'

/**
 * Small pictures built byte by byte, with all that a camera writes beside them. `HERE` must be in none that
 * is kept.
 */
const HERE = 'GPS 52.5200 N 13.4050 E'

const ascii = (text: string): Buffer => Buffer.from(text, 'latin1')
const u16 = (n: number): Buffer => Buffer.of(n >> 8, n & 255)

const segment = (marker: number, ...content: Buffer[]): Buffer => {
  const body = Buffer.concat(content)
  return Buffer.concat([Buffer.of(0xff, marker), u16(body.length + 2), body])
}

/** An EXIF block with the way up, and a text where the place would stand. */
function exif(orientation: number, little: boolean): Buffer {
  const tiff = Buffer.alloc(26)
  const w16 = (n: number, at: number) => (little ? tiff.writeUInt16LE(n, at) : tiff.writeUInt16BE(n, at))
  const w32 = (n: number, at: number) => (little ? tiff.writeUInt32LE(n, at) : tiff.writeUInt32BE(n, at))
  tiff.write(little ? 'II' : 'MM', 0, 'latin1')
  w16(42, 2)
  w32(8, 4)
  w16(1, 8)
  w16(0x0112, 10)
  w16(3, 12)
  w32(1, 14)
  w16(orientation, 18)
  return Buffer.concat([tiff, ascii(HERE)])
}

export function jpeg({ orientation = 1, little = true } = {}): Buffer {
  return Buffer.concat([
    Buffer.of(0xff, 0xd8),
    segment(0xe0, ascii('JFIF\0'), Buffer.of(1, 2, 0, 0, 1, 0, 1, 0, 0)),
    segment(0xe1, ascii('Exif\0\0'), exif(orientation, little)),
    segment(0xe1, ascii('http://ns.adobe.com/xap/1.0/\0'), ascii(`<x:xmpmeta>${HERE}</x:xmpmeta>`)),
    segment(0xed, ascii('Photoshop 3.0\0'), ascii(HERE)),
    segment(0xe2, ascii('ICC_PROFILE\0'), Buffer.of(1, 1), ascii('profile')),
    segment(0xe2, ascii('MPF\0'), ascii(HERE)),
    segment(0xfe, ascii(HERE)),
    segment(0xdb, Buffer.alloc(65)),
    segment(0xc0, Buffer.of(8, 0, 1, 0, 1, 1, 1, 0x11, 0)),
    segment(0xda, Buffer.of(1, 1, 0, 0, 63, 0)),
    Buffer.of(0x12, 0xff, 0x00, 0x34, 0xff, 0xd0, 0x56),
    Buffer.of(0xff, 0xd9),
    ascii(`a second picture behind the end, ${HERE}`),
  ])
}

const chunk = (name: string, content: Buffer): Buffer => {
  const body = Buffer.concat([ascii(name), content])
  const out = Buffer.alloc(8)
  out.writeUInt32BE(content.length, 0)
  out.writeUInt32BE(crc32(body), 4)
  return Buffer.concat([out.subarray(0, 4), body, out.subarray(4)])
}

export function png(): Buffer {
  const head = Buffer.alloc(13)
  head.writeUInt32BE(1, 0)
  head.writeUInt32BE(1, 4)
  head[8] = 8
  return Buffer.concat([
    Buffer.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a),
    chunk('IHDR', head),
    chunk('gAMA', Buffer.of(0, 0, 0xb1, 0x8f)),
    chunk('eXIf', exif(6, false)),
    chunk('tEXt', ascii(`Comment\0${HERE}`)),
    chunk('iTXt', ascii(`XML:com.adobe.xmp\0\0\0\0\0${HERE}`)),
    chunk('tIME', Buffer.of(7, 0xea, 1, 2, 3, 4, 5)),
    chunk('IDAT', deflateSync(Buffer.of(0, 128))),
    chunk('prVt', ascii(HERE)),
    chunk('IEND', Buffer.alloc(0)),
    ascii(HERE),
  ])
}

export function webp(): Buffer {
  const part = (name: string, content: Buffer) => {
    const size = Buffer.alloc(4)
    size.writeUInt32LE(content.length)
    return Buffer.concat([ascii(name), size, content, Buffer.alloc(content.length % 2)])
  }
  const body = Buffer.concat([
    ascii('WEBP'),
    part('VP8X', Buffer.of(0x20 | 0x08 | 0x04, 0, 0, 0, 0, 0, 0, 0, 0, 0)),
    part('ICCP', ascii('profile')),
    part('VP8L', Buffer.of(0x2f, 0, 0, 0, 0, 7, 7)),
    part('EXIF', exif(6, true)),
    part('XMP ', ascii(HERE)),
    part('ODDX', ascii(HERE)),
  ])
  const size = Buffer.alloc(4)
  size.writeUInt32LE(body.length)
  return Buffer.concat([ascii('RIFF'), size, body, ascii(HERE)])
}
