import type { Clip } from '../../../publish/clip/clip.ts'
import { drawArea } from '../../../publish/clip/drawShapes.ts'
import { frameCount } from '../../../publish/clip/frameTimes.ts'
import { frameTimesText, pictureName } from '../../../publish/clip/pictures.ts'
import type { PackageFile } from '../../../publish/package/files.ts'
import { loadFonts } from './fonts.ts'
import { contextOf } from './renderClip.ts'
import type { OnProgress } from './types.ts'

/** A clip as PNG pictures with alpha, one a frame, and the time of each, as the command writes them into a folder. */
export async function* pictureFiles(
  clip: Clip,
  stem: string,
  onProgress: OnProgress,
): AsyncGenerator<PackageFile> {
  await loadFonts()
  const { width, height } = clip
  const canvas = new OffscreenCanvas(width, height)
  const context = contextOf(canvas)
  const all = frameCount(clip.times)
  let made: { readonly key: string; readonly bytes: Uint8Array } | null = null
  for (let k = 0; k < all; k++) {
    const key = clip.keyAt(k)
    if (made === null || made.key !== key) {
      drawArea(context, clip.shapesAt(k), { x: 0, y: 0, width, height })
      const png = await canvas.convertToBlob({ type: 'image/png' })
      made = { key, bytes: new Uint8Array(await png.arrayBuffer()) }
    }
    yield { path: pictureName(stem, k), bytes: made.bytes }
    onProgress(k + 1, all)
  }
  yield { path: 'times.txt', bytes: new TextEncoder().encode(frameTimesText(clip.times)) }
}
