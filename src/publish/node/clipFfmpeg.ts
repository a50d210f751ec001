import { spawn } from 'node:child_process'
import { resolve } from 'node:path'
import { type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { Clip } from '../clip/clip.ts'
import { frameRateWords } from '../clip/frameRate.ts'
import { type FrameTimes, frameCount, frameTimeS } from '../clip/frameTimes.ts'
import { type ClipRun, stopped } from './clipBrowser.ts'
import { yuvaFrames } from './clipFrames.ts'
import { openHalfFile } from './halfFile.ts'
import { killed } from './killed.ts'
import { TIMED_HZ, timedFrameHead, timedHead } from './timedFrames.ts'

/** What ffmpeg is to make of the frames; all keep their alpha. */
export const FFMPEG_CODECS = {
  vp9: {
    format: 'webm',
    arguments: [
      '-c:v',
      'libvpx-vp9',
      '-crf',
      '20',
      '-b:v',
      '0',
      '-deadline',
      'realtime',
      '-cpu-used',
      '8',
      '-row-mt',
      '1',
    ],
  },
  prores: {
    format: 'mov',
    arguments: ['-c:v', 'prores_ks', '-profile:v', '4444', '-pix_fmt', 'yuva444p10le'],
  },
  /** Lossless: every pixel as it was drawn. */
  animation: { format: 'mov', arguments: ['-c:v', 'qtrle', '-pix_fmt', 'argb'] },
} as const
export type FfmpegCodec = keyof typeof FFMPEG_CODECS

export interface FfmpegRun extends ClipRun {
  readonly codec: FfmpegCodec
  /** The program, where it is not on the path. */
  readonly program?: string
  /** A program that takes no frame, or does not end, for so long is taken to hang. */
  readonly silentMs?: number
}

/** A frame takes a fraction of a second; a large one on a busy machine some seconds. */
const SILENT_MS = 90_000

const MOST_WORDS = 2_000

/**
 * Renders a clip with alpha by ffmpeg, a separate program. Its frames are drawn here and handed over one by
 * one, each with its time where they come at uneven ones.
 */
export async function renderByFfmpeg(clip: Clip, run: FfmpegRun): Promise<Outcome<string>> {
  const half = await openHalfFile(run.path)
  if (!half.ok) return half
  const { format, arguments: codec } = FFMPEG_CODECS[run.codec]
  const child = spawn(
    run.program ?? 'ffmpeg',
    [
      ...['-nostdin', '-y', '-hide_banner', '-v', 'error', ...given(clip)],
      ...['-colorspace', 'bt709', '-color_primaries', 'bt709', '-color_trc', 'bt709', '-color_range', 'tv'],
      ...['-i', 'pipe:0', ...codec, ...timing(clip.times, format), '-f', format],
      // An absolute path never begins with a dash.
      resolve(half.value.path),
    ],
    { stdio: ['pipe', 'ignore', 'pipe'], detached: process.platform !== 'win32', windowsHide: true },
  )
  let said = ''
  child.stderr.on('data', (chunk: Buffer) => {
    said = `${said}${chunk.toString()}`.slice(-MOST_WORDS)
  })
  const ended = new Promise<Problem | null>(done => {
    child.on('error', error => done(trouble(run.path, `ffmpeg could not be started: ${error.message}.`)))
    child.on('close', code =>
      done(
        code === 0
          ? null
          : trouble(run.path, `ffmpeg could not make it. It said: ${said.trim().slice(-400)}`),
      ),
    )
  })
  // What goes wrong with the pipe is told by how the program ends.
  child.stdin.on('error', () => {})
  const gone = ended.then(() => 'gone' as const)
  const { promise: hangs, heard, clear } = silence(run.silentMs ?? SILENT_MS, run.signal)
  const givenUp = () => wrong(run.signal?.aborted ? stopped(run.path) : trouble(run.path, HUNG))
  try {
    const { width, height, times } = clip
    const all = frameCount(times)
    let done = 0
    if (times.kind === 'listed') child.stdin.write(timedHead(width, height, all))
    for await (const { data } of yuvaFrames(clip)) {
      if (run.signal?.aborted) return wrong(stopped(run.path))
      if (child.stdin.destroyed) break
      if (times.kind === 'listed') child.stdin.write(timedFrameHead(data.byteLength, frameTimeS(times, done)))
      // The next frame is drawn over this one: it must have gone by then. A pipe that breaks never tells.
      const sent = new Promise<'sent'>(resolve => child.stdin.write(data, () => resolve('sent')))
      const went = await Promise.race([sent, gone, hangs])
      if (went === 'hangs') return givenUp()
      if (went === 'gone') break
      heard()
      done++
      run.onFrame?.(done, all)
    }
    child.stdin.end()
    const problem = await Promise.race([ended, hangs])
    if (problem === 'hangs') return givenUp()
    if (run.signal?.aborted) return wrong(stopped(run.path))
    return problem === null ? await half.value.finish() : wrong(problem)
  } finally {
    clear()
    await killed(child)
    await half.value.drop()
  }
}

const HUNG = 'ffmpeg took no more frames, or did not end.'

/** Tells when nothing has been heard for so long, or nobody waits any more. */
function silence(ms: number, signal: AbortSignal | undefined) {
  let tell: () => void = () => {}
  const promise = new Promise<'hangs'>(resolve => {
    tell = () => resolve('hangs')
  })
  const timer = setTimeout(tell, ms)
  signal?.addEventListener('abort', tell, { once: true })
  return {
    promise,
    heard: () => timer.refresh(),
    clear() {
      clearTimeout(timer)
      signal?.removeEventListener('abort', tell)
    },
  }
}

/** What ffmpeg is told of the frames that it gets. */
const given = ({ width, height, times }: Clip): string[] =>
  times.kind === 'listed'
    ? ['-f', 'ivf', '-c:v', 'rawvideo']
    : [
        ...['-f', 'rawvideo', '-pix_fmt', 'yuva420p'],
        ...['-video_size', `${width}x${height}`, '-framerate', frameRateWords(times.rate)],
      ]

/** Uneven times go on as they are, and the last frame ends when the clip does. */
function timing(times: FrameTimes, format: 'webm' | 'mov'): string[] {
  if (times.kind === 'steady') return []
  const last = times.timesS.length - 1
  const lengthS = (times.endS - times.timesS[last]!).toFixed(6)
  return [
    ...['-fps_mode', 'passthrough', '-enc_time_base', `1:${TIMED_HZ}`],
    ...(format === 'mov' ? ['-video_track_timescale', `${TIMED_HZ}`] : []),
    ...['-bsf:v', `setts=duration=if(eq(N\\,${last})\\,${lengthS}/TB\\,DURATION)`],
  ]
}

const trouble = (where: string, what: string): Problem => ({
  where,
  what,
  cure: 'Check that ffmpeg is installed and whole, or write .webm by a browser, or a folder of PNG pictures.',
})

/** Whether the program is there and starts. */
export async function hasProgram(program: string): Promise<boolean> {
  const child = spawn(program, ['-version'], { stdio: 'ignore', windowsHide: true })
  return new Promise(done => {
    child.on('error', () => done(false))
    child.on('close', code => done(code === 0))
  })
}
