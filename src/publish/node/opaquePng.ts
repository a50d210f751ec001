import { promisify } from 'node:util'
import { crc32, deflate } from 'node:zlib'
import { renderAsync } from '@resvg/resvg-js'
import { fontOptions } from './png.ts'

const deflated = promisify(deflate)

/**
 * A figure that covers its ground as PNG without an alpha channel, a quarter smaller for it. Drawn and packed
 * in threads of their own, several at once.
 */
export async function opaquePng(svg: string, { scale = 2 }: { scale?: number } = {}): Promise<Uint8Array> {
  const picture = await renderAsync(svg, { fitTo: { mode: 'zoom', value: scale }, font: fontOptions() })
  const { width, height, pixels } = picture
  const head = Buffer.alloc(13)
  head.writeUInt32BE(width, 0)
  head.writeUInt32BE(height, 4)
  head.set([8, TRUE_COLOUR, 0, 0, 0], 8)
  return Buffer.concat([
    SIGNATURE,
    chunk('IHDR', head),
    chunk('IDAT', await deflated(rowsOf(pixels, width, height))),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

/** PNG, third edition (W3C): 5.2 the signature; 11.2.1 colour types, of which 2 is red, green and blue. */
const SIGNATURE = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])
const TRUE_COLOUR = 2

/** Rows, each after the number of its filter (9.2: 0 is none), without the opacity. */
function rowsOf(rgba: Uint8Array, width: number, height: number): Buffer {
  const rows = Buffer.alloc(height * (1 + 3 * width))
  let to = 0
  let from = 0
  for (let y = 0; y < height; y++) {
    to++
    for (let x = 0; x < width; x++, from += 4, to += 3) {
      rows[to] = rgba[from]!
      rows[to + 1] = rgba[from + 1]!
      rows[to + 2] = rgba[from + 2]!
    }
  }
  return rows
}

/** 5.3: length, kind, content, and the CRC of the two latter. */
function chunk(kind: string, content: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(kind, 'latin1'), content])
  const length = Buffer.alloc(4)
  length.writeUInt32BE(content.length)
  const check = Buffer.alloc(4)
  check.writeUInt32BE(crc32(named))
  return Buffer.concat([length, named, check])
}
