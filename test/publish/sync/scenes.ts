import { seededRandom } from '../../../src/core/statistics/random.ts'
import type { Moment } from '../../../src/publish/sync/moments.ts'

/** A recording's moments and the clicks of a clip, with the truth of how they lie. */
export interface PretendScene {
  readonly moments: Moment[]
  readonly transientS: Float64Array
  readonly lengthS: number
  readonly offsetS: number
  readonly ppm: number
  /** Moments of the recording that can be heard in the clip. */
  readonly audible: number
}

export interface SceneSpec {
  readonly rateHz: number
  readonly taps: number
  readonly breaks: number
  /** Chance that a tap, a break is heard. */
  readonly tapHeard: number
  readonly breakHeard: number
  /** Clicks a second that are none of the recording's. */
  readonly extraHz: number
  readonly lengthS: number
  readonly ppm: number
  /** The recording is not of this clip. */
  readonly absent: boolean
  /** A regular tick, as of a ratchet or a clock, with this period. */
  readonly tickS: number | null
  /** Groups of three to five clicks in the rhythm of taps, that are none of the recording's. */
  readonly decoys: number
}

/** Clicks at seeded times: what a sound's transients would be, without making the sound. */
export function pretendScene(seed: number, spec: SceneSpec): PretendScene {
  const random = seededRandom(seed)
  const period = 1 / spec.rateHz
  const trueS: { what: Moment['what']; atS: number }[] = []
  let t = 1 + 3 * random.uniform()
  for (let i = 0; i < spec.taps; i++) {
    trueS.push({ what: 'tap', atS: t })
    t += 0.3 + 0.6 * random.uniform()
  }
  t += 3 + 10 * random.uniform()
  for (let i = 0; i < spec.breaks; i++) {
    trueS.push({ what: 'break', atS: t })
    t += 0.2 + 4 * random.uniform() ** 2
  }
  const spanS = t
  const ppm = spec.ppm * (2 * random.uniform() - 1)
  const offsetS = 2 + (spec.lengthS - spanS - 4) * random.uniform()
  const clicks: number[] = []
  let audible = 0
  for (const { what, atS } of trueS) {
    if (spec.absent || random.uniform() > (what === 'tap' ? spec.tapHeard : spec.breakHeard)) continue
    const heardS = offsetS + atS * (1 + ppm * 1e-6) + 0.001 * random.normal()
    if (heardS < 0 || heardS > spec.lengthS) continue
    audible++
    clicks.push(heardS)
  }
  for (let i = random.below(1 + Math.round(2 * spec.extraHz * spec.lengthS)); i > 0; i--)
    clicks.push(spec.lengthS * random.uniform())
  for (let d = 0; d < spec.decoys; d++) {
    let at = spec.lengthS * random.uniform()
    for (let i = 3 + random.below(3); i > 0; i--) {
      clicks.push(at)
      at += 0.3 + 0.6 * random.uniform()
    }
  }
  if (spec.tickS !== null)
    for (let tick = spec.tickS * random.uniform(); tick < spec.lengthS; tick += spec.tickS) clicks.push(tick)
  // What a recording tells of a moment: the period it lies in, taken at the middle.
  const moments = trueS.map(({ what, atS }) => ({
    what,
    atS: atS + period * (random.uniform() - 0.5),
    standardS: period / Math.sqrt(12),
  }))
  return {
    moments,
    transientS: Float64Array.from(apart(clicks.filter(t => t < spec.lengthS).sort((a, b) => a - b))),
    lengthS: spec.lengthS,
    offsetS,
    ppm,
    audible,
  }
}

/** Transients that follow within 40 ms of another are heard as one. */
const apart = (clicks: readonly number[]): number[] =>
  clicks.filter((t, i) => i === 0 || t - clicks[i - 1]! > 0.04)

/** A spec that a seed fixes: every kind of trouble, more or less of it. */
export function pretendSpec(seed: number): SceneSpec {
  const random = seededRandom(seed + 1_000_000)
  const pick = <T>(list: readonly T[]): T => list[random.below(list.length)]!
  return {
    rateHz: pick([10, 20, 40, 80, 80, 320]),
    taps: pick([0, 1, 2, 3, 3, 3, 3, 4, 5]),
    breaks: pick([0, 1, 2, 3, 5, 8, 14]),
    tapHeard: pick([1, 0.95, 0.7]),
    breakHeard: pick([1, 0.9, 0.5, 0]),
    extraHz: pick([0, 0.05, 0.2, 1, 3]),
    lengthS: pick([60, 90, 180, 600]),
    ppm: pick([0, 50, 200, 200, 400]),
    absent: random.uniform() < 0.1,
    tickS: random.uniform() < 0.1 ? 0.3 + random.uniform() : null,
    decoys: pick([0, 0, 1, 3]),
  }
}
