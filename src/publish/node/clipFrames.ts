import { Resvg } from '@resvg/resvg-js'
import type { Area } from '../clip/area.ts'
import type { Clip } from '../clip/clip.ts'
import { frameCount } from '../clip/frameTimes.ts'
import { shapesSvg } from '../clip/shapesSvg.ts'
import { fontOptions } from './png.ts'

/**
 * What is made of each frame of a clip, in order; frames that look the same are made once. `area` is the part of the
 * picture that is drawn. The event loop is given a turn at each, so that the work can be stopped.
 */
export async function* framesOf<T>(
  clip: Clip,
  area: Area,
  make: (picture: ReturnType<Resvg['render']>) => T,
): AsyncGenerator<T> {
  let made: { readonly key: string | null; readonly value: T | null } = { key: null, value: null }
  for (let k = 0; k < frameCount(clip.times); k++) {
    const key = clip.keyAt(k)
    const value =
      made.key === key && made.value !== null
        ? made.value
        : make(new Resvg(shapesSvg(clip.shapesAt(k), area), { font: fontOptions() }).render())
    made = { key, value }
    yield value
    await new Promise(resolve => setImmediate(resolve))
  }
}

/** Colours as they are before they are multiplied with opacity, from the renderer's, which are. */
export function straightRgba(multiplied: Uint8Array): Uint8ClampedArray<ArrayBuffer> {
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
