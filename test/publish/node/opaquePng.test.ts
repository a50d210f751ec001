import { execFileSync } from 'node:child_process'
import { expect, test } from 'vitest'
import { opaquePng } from '../../../src/publish/node/opaquePng.ts'
import { svgToPng } from '../../../src/publish/node/png.ts'

const SVG = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 30 21" width="30" height="21"><rect width="30" height="21" fill="#faf8f2"/><circle cx="12" cy="10" r="7.5" fill="#1f4e8c"/><text x="2" y="18" font-size="9">±1</text></svg>`

/** Red, green and blue of every pixel, as an independent decoder has them. */
const decoded = (png: Uint8Array): Buffer =>
  execFileSync(
    'ffmpeg',
    ['-v', 'error', '-f', 'png_pipe', '-i', 'pipe:0', '-f', 'rawvideo', '-pix_fmt', 'rgb24', 'pipe:1'],
    {
      input: png,
    },
  )

test('is the same picture, without an alpha channel', async () => {
  const png = Buffer.from(await opaquePng(SVG, { scale: 2 }))
  // PNG, 11.2.1: width, height, depth and colour type stand from byte 16 on.
  expect([png.readUInt32BE(16), png.readUInt32BE(20), png[24], png[25]]).toEqual([60, 42, 8, 2])
  expect(decoded(png).length).toBe(60 * 42 * 3)
  expect(decoded(png).equals(decoded(svgToPng(SVG, { scale: 2 })))).toBe(true)
})
