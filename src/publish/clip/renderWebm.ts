import { Output, StreamTarget, type StreamTargetChunk, WebMOutputFormat } from 'mediabunny'
import { alphaTrack } from './alphaTrack.ts'
import { changedAreas } from './changedAreas.ts'
import type { Clip } from './clip.ts'
import { type Context2D, drawArea } from './drawShapes.ts'
import { frameCount, frameTimeS, meanRateHz } from './frameTimes.ts'
import type { Shape } from './shapes.ts'
import { clearYuva, paintYuva, rgbOf } from './yuva.ts'

/** The part of a canvas's context that reads what was drawn, besides what draws. */
export interface ReadableContext extends Context2D {
  setTransform(a: number, b: number, c: number, d: number, e: number, f: number): void
  getImageData(x: number, y: number, width: number, height: number): { readonly data: Uint8ClampedArray }
}

/** A canvas of the size asked for, with a context that is read often (`willReadFrequently`). */
export type MakeContext = (width: number, height: number) => ReadableContext

export interface RenderWebmOptions {
  readonly makeContext: MakeContext
  /** Takes the file, in pieces that each say where they belong. */
  readonly write: (bytes: Uint8Array, position: number) => void | Promise<void>
  /** Told after each frame. */
  readonly onFrame?: (done: number, all: number) => void
  /** Ends the work; what was written so far is no clip. */
  readonly signal?: AbortSignal
}

/** Seconds between pictures that stand by themselves, for moving about in an editor. */
const KEY_S = 1
/** Bits to a pixel and frame: the letters stay sharp, and most of the picture is empty. */
const BITS_PER_PIXEL = 0.06
const LEAST_BIT_RATE = 1_000_000

/**
 * Renders a clip as WebM with an alpha channel, in a browser: a page, a worker, or one without a window. The
 * typeface must have been loaded. Rejects with the signal's reason when it is stopped, and where the browser
 * cannot encode or left frames out.
 */
export async function renderWebm(
  clip: Clip,
  { makeContext, write, onFrame, signal }: RenderWebmOptions,
): Promise<void> {
  const { width, height, times, part } = clip
  const ground = rgbOf(clip.ground)
  const picture = clearYuva(width, height, ground)
  const context = makeContext(part.width, part.height)
  context.setTransform(1, 0, 0, 1, -part.x, -part.y)
  const rateHz = meanRateHz(times)
  const target = new StreamTarget(
    new WritableStream<StreamTargetChunk>({ write: ({ data, position }) => write(data, position) }),
    { chunked: true, chunkSize: 4 * 1024 * 1024 },
  )
  const output = new Output({ format: new WebMOutputFormat(), target })
  const bitrate = Math.round(Math.max(LEAST_BIT_RATE, BITS_PER_PIXEL * width * height * rateHz))
  const track = alphaTrack({ width, height, bitrate, framerate: rateHz })
  output.addVideoTrack(track.source, times.kind === 'steady' ? { frameRate: rateHz } : {})
  try {
    await output.start()
    const all = frameCount(times)
    let drawn: { readonly key: string; readonly shapes: readonly Shape[] } | null = null
    let byItselfS = Number.NEGATIVE_INFINITY
    for (let k = 0; k < all; k++) {
      signal?.throwIfAborted()
      const fromS = frameTimeS(times, k)
      const span = { fromS, lengthS: frameTimeS(times, k + 1) - fromS }
      const key = clip.keyAt(k)
      const isKey = fromS >= byItselfS + KEY_S
      if (drawn === null || key !== drawn.key) {
        const shapes = clip.shapesAt(k)
        for (const area of drawn === null ? [part] : changedAreas(drawn.shapes, shapes, part)) {
          drawArea(context, shapes, area)
          const { data } = context.getImageData(area.x - part.x, area.y - part.y, area.width, area.height)
          paintYuva(picture, data, area, ground)
        }
        drawn = { key, shapes }
        await track.add(picture, span, isKey)
      } else if (isKey) await track.add(picture, span, isKey)
      else track.repeat(span)
      if (isKey) byItselfS = fromS
      onFrame?.(k + 1, all)
    }
    await track.finish()
    await output.finalize()
  } catch (error) {
    await output.cancel().catch(() => {})
    throw error
  } finally {
    track.close()
  }
}
