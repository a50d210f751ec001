import {
  Output,
  StreamTarget,
  type StreamTargetChunk,
  VideoSample,
  VideoSampleSource,
  WebMOutputFormat,
} from 'mediabunny'
import type { Clip } from './clip.ts'
import { type Context2D, drawShapes } from './drawShapes.ts'
import { frameCount, frameTimeS, meanRateHz } from './frameTimes.ts'
import { clearYuva, paintYuva, rgbOf } from './yuva.ts'

/** The part of a canvas's context that reads what was drawn, besides what draws. */
export interface ReadableContext extends Context2D {
  clearRect(x: number, y: number, width: number, height: number): void
  setTransform(a: number, b: number, c: number, d: number, e: number, f: number): void
  getImageData(x: number, y: number, width: number, height: number): { readonly data: Uint8ClampedArray }
}

/** A canvas of the size asked for, with a context that is read often (`willReadFrequently`). */
export type MakeContext = (width: number, height: number) => ReadableContext

export interface RenderWebmOptions {
  readonly makeContext: MakeContext
  /** Takes the file, in pieces that each say where they belong. */
  readonly write: (bytes: Uint8Array, position: number) => void | Promise<void>
  readonly codec?: 'vp9' | 'vp8'
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
 * Renders a clip as WebM with an alpha channel, in a browser: a page, a worker, or one without a window. The typeface
 * must have been loaded. Rejects with the signal's reason when it is stopped, and where the browser cannot encode or
 * left frames out.
 */
export async function renderWebm(
  clip: Clip,
  { makeContext, write, codec = 'vp9', onFrame, signal }: RenderWebmOptions,
): Promise<void> {
  const { width, height, times, part } = clip
  const ground = rgbOf(clip.ground)
  const picture = clearYuva(width, height, ground)
  const context = makeContext(part.width, part.height)
  const rateHz = meanRateHz(times)
  let encoded = 0
  const target = new StreamTarget(
    new WritableStream<StreamTargetChunk>({ write: ({ data, position }) => write(data, position) }),
    { chunked: true, chunkSize: 4 * 1024 * 1024 },
  )
  const output = new Output({ format: new WebMOutputFormat(), target })
  const source = new VideoSampleSource({
    codec,
    bitrate: Math.round(Math.max(LEAST_BIT_RATE, BITS_PER_PIXEL * width * height * rateHz)),
    alpha: 'keep',
    keyFrameInterval: KEY_S,
    // By the standard this one may leave frames out, which is why they are counted; it is several times as fast.
    latencyMode: 'realtime',
    onEncodedPacket: () => {
      encoded++
    },
  })
  output.addVideoTrack(source, times.kind === 'steady' ? { frameRate: rateHz } : {})
  try {
    await output.start()
    const all = frameCount(times)
    let drawn: string | null = null
    for (let k = 0; k < all; k++) {
      signal?.throwIfAborted()
      const key = clip.keyAt(k)
      if (key !== drawn) {
        context.setTransform(1, 0, 0, 1, 0, 0)
        context.clearRect(0, 0, part.width, part.height)
        context.setTransform(1, 0, 0, 1, -part.x, -part.y)
        drawShapes(context, clip.shapesAt(k))
        paintYuva(picture, context.getImageData(0, 0, part.width, part.height).data, part, ground)
        drawn = key
      }
      const timestamp = frameTimeS(times, k)
      const sample = new VideoSample(picture.data, {
        format: 'I420A',
        codedWidth: width,
        codedHeight: height,
        timestamp,
        duration: frameTimeS(times, k + 1) - timestamp,
        colorSpace: { primaries: 'bt709', transfer: 'bt709', matrix: 'bt709', fullRange: false },
      })
      await source.add(sample)
      sample.close()
      onFrame?.(k + 1, all)
    }
    // Closing waits for the encoder to hand over all that it has.
    await output.finalize()
    if (encoded !== all) throw new Error(lostFrames(encoded, all))
  } catch (error) {
    await output.cancel().catch(() => {})
    throw error
  }
}

const lostFrames = (encoded: number, all: number): string =>
  `the encoder gave back ${encoded} of ${all} frames, so the clip would run ahead of its video`
