import type { Segment } from '../recording.ts'
import { fitLine } from '../signal/line.ts'
import { reachOf, sumOf } from '../signal/scan.ts'
import type { Signal } from '../signal/summary.ts'
import type { Quiet } from './quiet.ts'

const BLOCK_S = 0.25
/** A swing is looked for over this long at least. */
const LEAST_BLOCKS = 8
/** From top to bottom a swing at rest is no more than this share of all that the reading covers. */
const MOST_SHARE = 0.04
/** And at least so many times the noise: less is taken for still anyway. */
const LEAST_NOISES = 8
/** A swing may grow by this share while it is followed. */
const GROWING = 0.25
/** Passages through the middle: two whole swings. */
const LEAST_PASSAGES = 4

/**
 * Stretches in which the reading swings to and fro about one level, as a hanging grip or a swaying rig lets it. The
 * level is the mean over whole swings: the turning points, where a swing stands still, are no rests.
 */
export function swingingStretches(
  timeS: Float64Array,
  forceN: Float64Array,
  segments: readonly Segment[],
  { periodS, noiseN }: Pick<Signal, 'periodS' | 'noiseN'>,
): Quiet[] {
  const size = periodS > 0 ? Math.max(1, Math.round(BLOCK_S / periodS)) : 1
  const all = reachOf(forceN, 0, forceN.length)
  const most = MOST_SHARE * (all.high - all.low)
  const found: Quiet[] = []
  for (const { from, to } of segments) {
    const blocks = Math.floor((to - from) / size)
    const lows = new Float64Array(blocks)
    const highs = new Float64Array(blocks)
    for (let b = 0; b < blocks; b++) {
      const { low, high } = reachOf(forceN, from + b * size, from + (b + 1) * size)
      lows[b] = low
      highs[b] = high
    }
    for (let a = 0; a + LEAST_BLOCKS <= blocks; ) {
      const { low } = reachOf(lows, a, a + LEAST_BLOCKS)
      const { high } = reachOf(highs, a, a + LEAST_BLOCKS)
      const room = GROWING * (high - low)
      if (high - low > most || high - low < LEAST_NOISES * noiseN) {
        a++
        continue
      }
      let b = a + LEAST_BLOCKS
      while (b < blocks && lows[b]! >= low - room && highs[b]! <= high + room) b++
      const start = from + a * size
      const end = from + b * size
      const mean = sumOf(forceN, start, end) / (end - start)
      const outN = (high - low) / 4
      const swing = passesSeldom(lows, highs, a, b, mean, outN)
        ? null
        : wholeSwings(timeS, forceN, start, end, mean, outN)
      if (swing) found.push(swing)
      // Half of what was in vain is passed over, so that the cost stays linear.
      a += swing ? b - a : Math.max(1, (b - a) >> 1)
    }
  }
  return found
}

/**
 * Whether the least and greatest readings of blocks tell by themselves that too few passages through the mean lie in
 * them, as on a ramp; they do not where a block reaches out on both sides.
 */
function passesSeldom(
  lows: Float64Array,
  highs: Float64Array,
  from: number,
  to: number,
  mean: number,
  outN: number,
): boolean {
  let side = 0
  let passages = 0
  for (let b = from; b < to; b++) {
    const above = highs[b]! - mean > outN
    const below = lows[b]! - mean < -outN
    if (above && below) return false
    const now = above ? 1 : below ? -1 : side
    if (now !== side && side !== 0) passages++
    side = now
  }
  return passages < LEAST_PASSAGES
}

/** The stretch between the first and last upward passage through its mean, with `outN` to be reached on either side. */
function wholeSwings(
  timeS: Float64Array,
  forceN: Float64Array,
  from: number,
  to: number,
  mean: number,
  outN: number,
): Quiet | null {
  let side = 0
  let passages = 0
  let upward = 0
  let first = -1
  let last = -1
  for (let i = from; i < to; i++) {
    const off = forceN[i]! - mean
    const now = off > outN ? 1 : off < -outN ? -1 : side
    if (now !== side && side !== 0) {
      passages++
      if (now > 0) {
        upward++
        last = i
        while (forceN[last - 1]! > mean) last--
        if (first < 0) first = last
      }
    }
    side = now
  }
  if (passages < LEAST_PASSAGES || last <= first) return null
  const line = fitLine(timeS, forceN, first, last)
  const spread = Math.sqrt((line.residualN2 + line.slopeNPerS ** 2 * line.spreadS2) / line.n)
  // What climbs through its own swing is a ripple on a ramp. A line through n whole swings leans by 6 / (π n) of one.
  const leaning = Math.max(2, 5 / (upward - 1)) * outN
  if (Math.abs(line.slopeNPerS) * (timeS[last]! - timeS[first]!) > leaning) return null
  return {
    from,
    to,
    fromS: timeS[from]!,
    toS: timeS[to - 1]!,
    levelN: line.levelN,
    // No drift is told from the lean of the swings.
    slopeNPerS: 0,
    slopeStandardN: line.spreadS2 > 0 ? spread / Math.sqrt(line.spreadS2) : 0,
    noiseN: spread,
    swingN: spread,
  }
}

/** Level stretches and swings in order: a swing takes the place of its turning points, unless most of it is still. */
export function withSwings(quiets: readonly Quiet[], swings: readonly Quiet[]): readonly Quiet[] {
  if (swings.length === 0) return quiets
  const overlap = (a: Quiet, b: Quiet): number => Math.max(0, Math.min(a.to, b.to) - Math.max(a.from, b.from))
  const kept = swings.filter(s => !quiets.some(q => overlap(q, s) > 0.5 * (s.to - s.from)))
  const others = quiets.filter(q => !kept.some(s => overlap(q, s) > 0.5 * (q.to - q.from)))
  return [...others, ...kept].sort((a, b) => a.from - b.from)
}
