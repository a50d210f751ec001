import type { Segment } from '../recording.ts'
import { fitLine } from '../signal/line.ts'
import { reachOf, sumOf } from '../signal/scan.ts'
import type { Signal } from '../signal/summary.ts'

/** A stretch in which the reading keeps its level: a rest, or a hold under load. */
export interface Quiet {
  /** First sample, and one past the last. */
  readonly from: number
  readonly to: number
  readonly fromS: number
  readonly toS: number
  readonly levelN: number
  readonly slopeNPerS: number
  /** Standard uncertainty of the slope. */
  readonly slopeStandardN: number
  /** Standard deviation of the reading about its line. */
  readonly noiseN: number
  /** Standard deviation of a swing about the level; left out where the reading stands still. */
  readonly swingN?: number
}

const BLOCK_S = 0.1
/** How far back the level is remembered while a stretch grows: slow drift is followed, loading is not. */
const MEMORY_S = 0.8
/** What moves by less than this share of all that the reading covers stands still, even if it does not as noise would. */
const STILL_SHARE = 3e-4
const LEAST_SAMPLES = 4
const LEAST_S = 0.28

/** Stretches of level reading within each segment, in order, by growing them over blocks of 0.1 s (at least one sample). */
export function quietStretches(
  timeS: Float64Array,
  forceN: Float64Array,
  segments: readonly Segment[],
  { periodS, noiseN, quantumN }: Pick<Signal, 'periodS' | 'noiseN' | 'quantumN'>,
): Quiet[] {
  const size = periodS > 0 ? Math.max(1, Math.floor(BLOCK_S / periodS + 1e-9)) : 1
  const memory = periodS > 0 ? Math.max(3, Math.round(MEMORY_S / (size * periodS))) : 3
  const { low, high } = reachOf(forceN, 0, forceN.length)
  const tolerance = Math.max((4 * noiseN) / Math.sqrt(size) + 0.8 * quantumN, STILL_SHARE * (high - low))
  const found: Quiet[] = []
  const keep = (from: number, to: number): void => {
    // A block at either end may hold part of a ramp.
    const trim = to - from > 8 * size ? size : 0
    const a = from + trim
    const b = to - trim
    if (b - a < LEAST_SAMPLES || timeS[b - 1]! - timeS[a]! < LEAST_S) return
    found.push(beforeItClimbs(timeS, forceN, quietOver(timeS, forceN, a, b, noiseN), noiseN))
  }
  for (const segment of segments) {
    let from = segment.from
    let level = blockMean(forceN, from, Math.min(segment.to, from + size))
    let blocks = 1
    for (let at = from + size; at < segment.to; at += size) {
      const end = Math.min(segment.to, at + size)
      const mean = blockMean(forceN, at, end)
      if (Math.abs(mean - level) <= tolerance) {
        blocks++
        level += (mean - level) / Math.min(blocks, memory)
      } else {
        keep(from, at)
        from = at
        level = mean
        blocks = 1
      }
    }
    keep(from, segment.to)
  }
  return found
}

/** Level, slope and noise of samples `from` to `to`, taken as one quiet stretch. */
export function quietOver(
  timeS: Float64Array,
  forceN: Float64Array,
  from: number,
  to: number,
  noiseN: number,
): Quiet {
  const line = fitLine(timeS, forceN, from, to)
  const noise = Math.sqrt(line.residualN2 / Math.max(1, line.n - 2))
  return {
    from,
    to,
    fromS: timeS[from]!,
    toS: timeS[to - 1]!,
    levelN: line.levelN,
    slopeNPerS: line.slopeNPerS,
    slopeStandardN: line.spreadS2 > 0 ? Math.max(noise, noiseN) / Math.sqrt(line.spreadS2) : 0,
    noiseN: noise,
  }
}

/** Shares of a stretch that are tried without its end, and how much flatter the rest of it must then be. */
const WITHOUT_END = [0.85, 0.7, 0.5]
const FLATTER = 0.3

/** A stretch without its end where a loading that began softly was taken into it: the rest of it hardly climbs. */
function beforeItClimbs(timeS: Float64Array, forceN: Float64Array, whole: Quiet, noiseN: number): Quiet {
  const { from, to, slopeNPerS, slopeStandardN } = whole
  if (!(slopeNPerS > 3 * slopeStandardN)) return whole
  for (const share of WITHOUT_END) {
    const samples = Math.round(share * (to - from))
    if (samples < 2 * LEAST_SAMPLES || timeS[from + samples - 1]! - timeS[from]! < LEAST_S) break
    const part = quietOver(timeS, forceN, from, from + samples, noiseN)
    if (part.slopeNPerS < FLATTER * slopeNPerS) return part
  }
  return whole
}

const blockMean = (forceN: Float64Array, from: number, to: number): number =>
  sumOf(forceN, from, to) / (to - from)

/** Samples in quiet stretches from which on their noise is trusted more than that of any stretch. */
const ENOUGH = 20

/** Shares of the samples in quiet stretches, the calmest first, up to which noise is read off. */
const USUAL_SHARE = 0.35
const CALMEST_SHARE = 0.1

/** Of its level: no converter is so still, but rounding of the arithmetic is. */
const MOTIONLESS = 1e-9

export interface QuietNoise {
  /** What a reading at rest usually has. */
  readonly usualN: number
  /** Of the calmest stretches: what the converter has by itself, however much a held load fluctuates. */
  readonly calmestN: number
}

/**
 * Standard deviations of the reading about its level in the quiet stretches, in N. A held load may fluctuate for most
 * of a record: the median over all stretches would be that of the load. `null` where they hold too few samples.
 */
export function quietNoise(quiets: readonly Quiet[]): QuietNoise | null {
  const topN = Math.max(...quiets.map(q => q.levelN))
  // What stands motionless above all else is the limit of the range: its stillness is not that of the converter.
  const isCut = ({ levelN, noiseN }: Quiet): boolean =>
    levelN >= topN * (1 - MOTIONLESS) && !(noiseN > MOTIONLESS * levelN)
  const sorted = quiets.filter(q => q.to - q.from >= 5 && !isCut(q)).sort((a, b) => a.noiseN - b.noiseN)
  const all = sorted.reduce((sum, q) => sum + q.to - q.from, 0)
  if (all < ENOUGH) return null
  const noiseOf = (samples: number): number => {
    let sum = 0
    for (const q of sorted) {
      sum += q.to - q.from
      if (sum >= samples) return q.noiseN
    }
    return Number.NaN
  }
  return {
    usualN: noiseOf(USUAL_SHARE * all),
    calmestN: noiseOf(Math.max(ENOUGH, CALMEST_SHARE * all)),
  }
}
