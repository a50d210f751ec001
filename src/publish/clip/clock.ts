import type { ClipTrack } from './track.ts'

/**
 * How the clock of a clip stands to that of a recording: clip time = `offsetS` + `rate` × recording time, both in
 * seconds on their own axis. A rate of 1.000 05 is a camera that counts 50 ppm more seconds than the logger.
 */
export interface ClipClock {
  readonly offsetS: number
  readonly rate: number
}

export const recordingTimeS = ({ offsetS, rate }: ClipClock, clipS: number): number =>
  (clipS - offsetS) / rate

export const clipTimeS = ({ offsetS, rate }: ClipClock, recordingS: number): number =>
  offsetS + rate * recordingS

/** One specimen's recording within a clip. */
export interface Take {
  readonly track: ClipTrack
  readonly clock: ClipClock
}

/** How long the result stands after a recording has ended, where nothing else begins. */
export const RESULT_S = 4

/**
 * The take that is seen at a moment of the clip: the last one that had begun, until its result has stood long enough;
 * `null` where none is.
 */
export function takeAt(takes: readonly Take[], clipS: number): Take | null {
  let seen: Take | null = null
  let seenFromS = Number.NEGATIVE_INFINITY
  for (const take of takes) {
    const fromS = clipTimeS(take.clock, take.track.startS)
    const toS = clipTimeS(take.clock, take.track.endS) + RESULT_S
    if (clipS >= fromS && clipS < toS && fromS >= seenFromS) {
      seen = take
      seenFromS = fromS
    }
  }
  return seen
}

/** Where the last take has been shown to its end. */
export const takesEndS = (takes: readonly Take[]): number =>
  Math.max(0, ...takes.map(({ clock, track }) => clipTimeS(clock, track.endS) + RESULT_S))
