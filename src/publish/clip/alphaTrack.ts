import { EncodedPacket, EncodedVideoPacketSource } from 'mediabunny'
import { vp9Repeat } from './vp9Repeat.ts'
import type { YuvaPicture } from './yuva.ts'

/** A frame of the track: when it is shown, and for how long. */
export interface FrameSpan {
  readonly fromS: number
  readonly lengthS: number
}

/** A video track of VP9 with alpha that is being encoded; frames are given in order. */
export interface AlphaTrack {
  /** To be added to an output before the first frame. */
  readonly source: EncodedVideoPacketSource
  /** `key`: the picture stands by itself. Waits where the encoders have enough to do. */
  add(picture: YuvaPicture, span: FrameSpan, key: boolean): Promise<void>
  /** The last picture, for another frame. */
  repeat(span: FrameSpan): void
  /** Waits for all that the encoders still have. Rejects where frames are missing. */
  finish(): Promise<void>
  /** Ends the encoders, whatever they are at. */
  close(): void
}

/** A frame whose packet has not been written yet; a `repeat` needs no encoder. */
interface Waiting extends FrameSpan {
  readonly isRepeat: boolean
}

/** Both halves of the last packet that was written. */
interface Halves {
  readonly colour: Uint8Array
  readonly alpha: Uint8Array
}

/** Pixels of a picture at level 5.1 (4096 × 2176); profile 0 has 8 bits. WebM's list of VP9 levels. */
const MOST_AT_LEVEL_51 = 8_912_896
/** Pictures that an encoder may have in hand. */
const MOST_QUEUED = 3

/**
 * Colour and opacity each have an encoder of their own, as WebM keeps them, and both run at once. The
 * browser's own wish for alpha is not honoured anywhere.
 */
export function alphaTrack(config: {
  width: number
  height: number
  bitrate: number
  framerate: number
}): AlphaTrack {
  const source = new EncodedVideoPacketSource('vp9')
  const full: VideoEncoderConfig = {
    ...config,
    codec: `vp09.00.${config.width * config.height <= MOST_AT_LEVEL_51 ? 51 : 62}.08`,
    // By the standard this one may leave frames out, which is why they are counted; it is several times as
    // fast.
    latencyMode: 'realtime',
  }
  let fault: unknown = null
  const waiting: Waiting[] = []
  let last: Halves | null = null
  let decoderConfig: VideoDecoderConfig | undefined
  let written: Promise<void> = Promise.resolve()
  const [colour, alpha] = [0, 1].map(which => {
    const chunks: EncodedVideoChunk[] = []
    const encoder = new VideoEncoder({
      output(chunk, meta) {
        chunks.push(chunk)
        if (which === 0) decoderConfig ??= meta?.decoderConfig
        write()
      },
      error: error => {
        fault ??= error
      },
    })
    encoder.configure(full)
    return { encoder, chunks }
  }) as [Half, Half]

  /** Writes what is whole, in order. */
  function write(): void {
    for (let next = waiting[0]; next !== undefined; next = waiting[0]) {
      const packet = next.isRepeat ? repeated(next) : encoded(next)
      if (packet === null) return
      waiting.shift()
      written = written.then(() => source.add(packet, decoderConfig === undefined ? {} : { decoderConfig }))
      // Told by `check`, wherever it is seen first.
      written.catch(error => {
        fault ??= error
      })
    }
  }

  function encoded({ fromS, lengthS }: Waiting): EncodedPacket | null {
    const [first, other] = [colour.chunks[0], alpha.chunks[0]]
    if (first === undefined || other === undefined) return null
    if (first.timestamp !== microseconds(fromS) || other.timestamp !== first.timestamp) {
      fault ??= new Error(LOST)
      return null
    }
    colour.chunks.shift()
    alpha.chunks.shift()
    last = { colour: bytesOf(first), alpha: bytesOf(other) }
    return new EncodedPacket(last.colour, first.type, fromS, lengthS, undefined, undefined, {
      alpha: last.alpha,
    })
  }

  function repeated({ fromS, lengthS }: Waiting): EncodedPacket | null {
    const again = last === null ? null : { colour: vp9Repeat(last.colour), alpha: vp9Repeat(last.alpha) }
    if (again?.colour && again.alpha)
      return new EncodedPacket(again.colour, 'delta', fromS, lengthS, undefined, undefined, {
        alpha: again.alpha,
      })
    fault ??= new Error('the encoder made a picture that cannot be shown twice')
    return null
  }

  function check(): void {
    if (fault !== null) throw fault
  }

  return {
    source,
    async add(picture, span, key) {
      for (const { encoder } of [colour, alpha])
        while (encoder.state === 'configured' && encoder.encodeQueueSize >= MOST_QUEUED)
          await dequeued(encoder)
      await written
      check()
      waiting.push({ ...span, isRepeat: false })
      for (const [half, plane] of [
        [colour, picture.colour],
        [alpha, picture.alpha],
      ] as const) {
        const frame = new VideoFrame(plane, {
          format: 'I420',
          codedWidth: picture.width,
          codedHeight: picture.height,
          timestamp: microseconds(span.fromS),
          duration: microseconds(span.lengthS),
          colorSpace: { primaries: 'bt709', transfer: 'bt709', matrix: 'bt709', fullRange: false },
        })
        half.encoder.encode(frame, { keyFrame: key })
        frame.close()
      }
    },
    repeat(span) {
      waiting.push({ ...span, isRepeat: true })
      write()
    },
    async finish() {
      await Promise.all([colour.encoder.flush(), alpha.encoder.flush()])
      write()
      await written
      check()
      if (waiting.length > 0) throw new Error(LOST)
    },
    close() {
      for (const { encoder } of [colour, alpha]) if (encoder.state !== 'closed') encoder.close()
    },
  }
}

interface Half {
  readonly encoder: VideoEncoder
  /** Those that have come out and are not written yet. */
  readonly chunks: EncodedVideoChunk[]
}

const LOST = 'the encoder left frames out, so the clip would run ahead of its video'

const microseconds = (seconds: number): number => Math.round(seconds * 1e6)

const dequeued = (encoder: VideoEncoder): Promise<unknown> =>
  new Promise(resolve => encoder.addEventListener('dequeue', resolve, { once: true }))

function bytesOf(chunk: EncodedVideoChunk): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(chunk.byteLength)
  chunk.copyTo(bytes)
  return bytes
}
