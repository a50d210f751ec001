import { extname } from 'node:path'
import { InvalidArgumentError } from 'commander'
import { type FrameRate, parseFrameRate } from '../publish/clip/frameRate.ts'
import type { ClipJob } from '../publish/clip/job.ts'
import type { Encoder, MovCodec } from '../publish/node/renderClip.ts'
import { EXIT, type ExitCode, type Io } from './io.ts'
import { progress } from './progress.ts'
import { tell } from './tell.ts'

export interface PictureSize {
  readonly width: number
  readonly height: number
}

const LEAST_PX = 64
const MOST_PX = 8192

/** `1920x1080`. */
export function pictureSize(word: string): PictureSize {
  const [, width = 0, height = 0] = (/^(\d{1,5})\s*[x×*]\s*(\d{1,5})$/i.exec(word.trim()) ?? []).map(Number)
  if (![width, height].every(px => px >= LEAST_PX && px <= MOST_PX))
    throw new InvalidArgumentError(
      `It must be width x height in pixels, each from ${LEAST_PX} to ${MOST_PX}, as in 1920x1080.`,
    )
  return { width, height }
}

/** `25`, `29.97`, `30000/1001`. */
export function frameRate(word: string): FrameRate {
  const rate = parseFrameRate(word)
  if (rate === null)
    throw new InvalidArgumentError('It must be frames a second, as in 25, 29.97 or 30000/1001.')
  return rate
}

/** The ending says what is made. */
export function clipFile(path: string): string {
  if (path === '-' || !['.webm', '.mov', ''].includes(extname(path).toLowerCase()))
    throw new InvalidArgumentError(
      'A clip is written as .webm or .mov, or, without an ending, as a folder of PNG pictures.',
    )
  return path
}

export interface RenderFlags {
  readonly out: string
  readonly encoder?: Encoder
  readonly codec: MovCodec
  readonly json?: true
}

/** Renders with progress on standard error; Ctrl-C stops it and leaves nothing behind. */
export async function renderWithProgress(
  job: ClipJob,
  { out, encoder, codec, json }: RenderFlags,
  io: Io,
): Promise<ExitCode> {
  const { renderClip } = await import('../publish/node/renderClip.ts')
  const stop = new AbortController()
  const onSignal = () => stop.abort()
  process.once('SIGINT', onSignal)
  process.once('SIGTERM', onSignal)
  const shown = progress(io, `rendering ${out}`)
  const begunMs = performance.now()
  let frames = 0
  const rendered = await renderClip(job, {
    path: out,
    encoder: encoder ?? null,
    movCodec: codec,
    signal: stop.signal,
    onFrame: (done, all) => {
      frames = done
      shown.tell(done, all)
    },
  })
  shown.end()
  process.off('SIGINT', onSignal)
  process.off('SIGTERM', onSignal)
  if (!rendered.ok) return tell(io, rendered.problems, EXIT.output)
  const seconds = (performance.now() - begunMs) / 1000
  const { frameCount, frameTimeS } = await import('../publish/clip/frameTimes.ts')
  const { clipOf } = await import('../publish/clip/job.ts')
  const { times } = clipOf(job)
  const lengthS = frameTimeS(times, frameCount(times))
  const told = { path: out, frames, lengthS, width: job.width, height: job.height, seconds }
  if (json) io.out(`${JSON.stringify(told)}\n`)
  else
    io.out(
      `${frames} frames, ${lengthS.toFixed(2)} s, ${job.width} × ${job.height}, written to ${out} in ${seconds.toFixed(1)} s (${(lengthS / seconds).toPrecision(2)} times real time)\n`,
    )
  return EXIT.ok
}
