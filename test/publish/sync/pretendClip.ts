import { makePull, type PretendKind, type Truth } from '../../../src/capture/pretend/index.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import type { Recording } from '../../../src/core/recording.ts'
import { seededRandom } from '../../../src/core/statistics/random.ts'
import type { SyncTarget } from '../../../src/publish/sync/syncClip.ts'
import { clickSound } from './sounds.ts'
import { withTaps } from './tapped.ts'

export interface Filmed extends SyncTarget {
  /** Clip time of the recording's first reading, and how fast the clip's clock runs. */
  readonly offsetS: number
  readonly ppm: number
  /** What can be heard, in clip time. */
  readonly clicksS: readonly number[]
}

export interface FilmSpec {
  readonly kind: PretendKind
  readonly seed: number
  /** Clip time at which the recording begins. */
  readonly offsetS: number
  readonly ppm?: number
  readonly taps?: boolean
  readonly breaksHeard?: boolean
  /** Readings a second; left out: as the kind and the seed have it. */
  readonly rateHz?: number
}

/** A pretend pull with three taps before it, as a camera would have heard it. */
export function filmed({
  kind,
  seed,
  offsetS,
  ppm = 0,
  taps = true,
  breaksHeard = true,
  rateHz,
}: FilmSpec): Filmed {
  const { recording: plain, truth } = makePull({
    kind,
    seed,
    ...(rateHz === undefined
      ? {}
      : { change: spec => ({ ...spec, converter: { ...spec.converter, rateHz } }) }),
  })
  const tapsS = taps ? tapTimes(plain, truth, seed) : []
  const recording = withTaps(plain, tapsS, { peakN: Math.max(4, 30 * truth.noiseN, 10 * truth.quantumN) })
  const startS = recording.timeS[0]!
  const heard = [...tapsS, ...(breaksHeard ? truth.events.filter(e => e.kind !== 'slip').map(e => e.t) : [])]
  return {
    recording,
    reading: readRecording(recording, {}),
    offsetS,
    ppm,
    clicksS: heard.map(t => offsetS + (t - startS) * (1 + ppm * 1e-6)),
  }
}

/** Three uneven taps in the rest before the first pull. */
function tapTimes(recording: Recording, truth: Truth, seed: number): number[] {
  const random = seededRandom(seed)
  const startS = recording.timeS[0]!
  const firstS = truth.pulls[0]?.start ?? startS
  const restS = firstS - startS
  return [0.25, 0.45, 0.75].map(share => startS + restS * (share + 0.1 * random.uniform()))
}

/** The sound of a clip of these pulls, with some clicks that are none of theirs. */
export function soundOf(
  pulls: readonly Filmed[],
  {
    seed,
    lengthS,
    rateHz = 16_000,
    extra = 5,
  }: { seed: number; lengthS: number; rateHz?: number; extra?: number },
): Float32Array {
  const random = seededRandom(seed + 77)
  const others = Array.from({ length: extra }, () => lengthS * random.uniform())
  const clicksS = [...pulls.flatMap(p => p.clicksS), ...others].filter(t => t >= 0 && t < lengthS)
  return clickSound({ seed, rateHz, lengthS, clicksS })
}
