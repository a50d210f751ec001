import { Resvg } from '@resvg/resvg-js'
import type { Area } from '../clip/area.ts'
import { changedAreas, touches } from '../clip/changedAreas.ts'
import type { Clip } from '../clip/clip.ts'
import { frameCount } from '../clip/frameTimes.ts'
import type { Shape } from '../clip/shapes.ts'
import { shapesSvg } from '../clip/shapesSvg.ts'
import { clearYuva, paintYuva, rgbOf, type YuvaPicture } from '../clip/yuva.ts'
import { fontOptions } from './png.ts'

/**
 * The frames of a clip as whole pictures of a renderer, in order; those that look the same are drawn once.
 * The event loop is given a turn at each, so that the work can be stopped.
 */
export async function* pngFrames(clip: Clip): AsyncGenerator<Uint8Array> {
  const whole = { x: 0, y: 0, width: clip.width, height: clip.height }
  let made: { readonly key: string; readonly png: Uint8Array } | null = null
  for (let k = 0; k < frameCount(clip.times); k++) {
    const key = clip.keyAt(k)
    if (made === null || made.key !== key) made = { key, png: rendered(clip.shapesAt(k), whole).asPng() }
    yield made.png
    await turn()
  }
}

/**
 * The frames of a clip as video has them, in order: one and the same picture, of which each frame changes a
 * little.
 */
export async function* yuvaFrames(clip: Clip): AsyncGenerator<YuvaPicture> {
  const ground = rgbOf(clip.ground)
  const picture = clearYuva(clip.width, clip.height, ground)
  let drawn: { readonly key: string; readonly shapes: readonly Shape[] } | null = null
  for (let k = 0; k < frameCount(clip.times); k++) {
    const key = clip.keyAt(k)
    if (drawn === null || drawn.key !== key) {
      const shapes = clip.shapesAt(k)
      for (const area of drawn === null ? [clip.part] : changedAreas(drawn.shapes, shapes, clip.part)) {
        const there = shapes.filter(shape => touches(shape, area))
        paintYuva(picture, straightRgba(rendered(there, area).pixels), area, ground)
      }
      drawn = { key, shapes }
    }
    yield picture
    await turn()
  }
}

const rendered = (shapes: readonly Shape[], area: Area) =>
  new Resvg(shapesSvg(shapes, area), { font: fontOptions() }).render()

const turn = (): Promise<void> => new Promise(resolve => setImmediate(resolve))

/** Colours as they are before they are multiplied with opacity, from the renderer's, which are. */
function straightRgba(multiplied: Uint8Array): Uint8ClampedArray<ArrayBuffer> {
  const straight = new Uint8ClampedArray(multiplied.byteLength)
  for (let i = 0; i < multiplied.length; i += 4) {
    const alpha = multiplied[i + 3]!
    if (alpha === 0) continue
    const by = 255 / alpha
    straight[i] = multiplied[i]! * by
    straight[i + 1] = multiplied[i + 1]! * by
    straight[i + 2] = multiplied[i + 2]! * by
    straight[i + 3] = alpha
  }
  return straight
}
