import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { FrameRate } from './frameRate.ts'

/**
 * When each frame of a clip is shown, in seconds from the clip's start; frame k is seen from its time until
 * that of the next. Plain data: it goes to another process.
 */
export type FrameTimes =
  | { readonly kind: 'steady'; readonly rate: FrameRate; readonly count: number }
  /** Of a clip with a variable frame rate: one time a frame, rising, and when the last one ends. */
  | { readonly kind: 'listed'; readonly timesS: readonly number[]; readonly endS: number }

/** A day at 30 frames a second; a slip of the keyboard asks for more. */
const MOST_FRAMES = 2_592_000
/** Lengths are told in decimals: what is this little too long does not make another frame. */
const LEAST_SHARE = 1e-6

/** Every frame that begins before `lengthS`; at least one. */
export const steadyFrames = (rate: FrameRate, lengthS: number): FrameTimes => ({
  kind: 'steady',
  rate,
  count: Math.max(1, Math.ceil((lengthS * rate.num) / rate.den - LEAST_SHARE)),
})

export const frameCount = (times: FrameTimes): number =>
  times.kind === 'steady' ? times.count : times.timesS.length

/** When frame `k` begins; for `k` one past the last, when the clip ends. */
export function frameTimeS(times: FrameTimes, k: number): number {
  if (times.kind === 'steady') return (k * times.rate.den) / times.rate.num
  return times.timesS[k] ?? times.endS
}

/** Mean frames a second, for players and encoders that want one figure. */
export function meanRateHz(times: FrameTimes): number {
  if (times.kind === 'steady') return times.rate.num / times.rate.den
  const spanS = times.endS - times.timesS[0]!
  return times.timesS.length / spanS
}

/**
 * A text with the time of each frame in seconds, one a line, as a player or `ffprobe` lists them; blank lines
 * and lines that begin with `#` are passed over, and the last step is taken to last as long as the one
 * before.
 */
export function parseFrameTimes(text: string, name: string): Outcome<FrameTimes> {
  const timesS: number[] = []
  for (const [i, line] of text
    .replace(/^\ufeff/, '')
    .split(/\r\n|\r|\n/)
    .entries()) {
    const word = line.trim().replace(/,$/, '')
    if (word === '' || word.startsWith('#')) continue
    const timeS = Number(word)
    const before = timesS.at(-1)
    if (!Number.isFinite(timeS) || timeS < 0 || (before !== undefined && timeS <= before)) {
      return wrong({
        where: `${name}, line ${i + 1}`,
        what: `“${word.slice(0, 40)}” is no time of a frame${before === undefined ? '' : ` after ${before} s`}.`,
        cure: 'Give one time a line in seconds, each later than the one before.',
      })
    }
    timesS.push(timeS)
  }
  return listedFrames(timesS, null, name)
}

/** Frames at given times; `endS` `null`: the last one lasts as long as the one before it. */
export function listedFrames(
  timesS: readonly number[],
  endS: number | null,
  name: string,
): Outcome<FrameTimes> {
  const last = timesS.at(-1)
  const before = timesS.at(-2)
  if (last === undefined || (before === undefined && endS === null)) {
    return wrong({
      where: name,
      what: `it has ${timesS.length === 0 ? 'no' : 'only one'} time of a frame.`,
      cure: 'Give the time of every frame, or --fps for a steady rate.',
    })
  }
  if (timesS.length > MOST_FRAMES) return tooMany(name, timesS.length)
  const end = endS !== null && endS > last ? endS : last + (last - (before ?? 0))
  return fine({ kind: 'listed', timesS, endS: end })
}

/** The same frames; a problem where there are more than any clip has. */
export const fewEnough = (times: FrameTimes): Outcome<FrameTimes> =>
  frameCount(times) > MOST_FRAMES ? tooMany('--length', frameCount(times)) : fine(times)

const tooMany = (where: string, count: number) =>
  wrong({
    where,
    what: `that makes ${count} frames, more than a day of video.`,
    cure: 'Check the length and the frame rate.',
  })
