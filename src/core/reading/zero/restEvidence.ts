import { reachOf, sumOf } from '../../signal/scan.ts'
import type { Signal } from '../../signal/summary.ts'
import type { Quiet } from '../quiet.ts'

/** What tells a rest from a held load, a slow ramp or a push: the witnesses that `findZeros` hears. */

/** A stretch that moves faster than this share of the loading is a slow part of it, and one that climbs by this. */
const CREEPING_SHARE = 0.1
const CLIMBING_SHARE = 0.035
/** Windows in which the pace of loading is looked for: no shorter than this, and no more of them. */
const PACE_S = 0.5
const MAX_PACE_S = 5
const PACE_WINDOWS = 400

/** Whether a level stretch is a slow part of the loading or unloading: its slope shows, and is no drift's. */
export function moves(q: Quiet, paceNPerS: number, quantumN: number): boolean {
  const moved = Math.abs(q.slopeNPerS) * (q.toS - q.fromS)
  const shows = Math.abs(q.slopeNPerS) > 4 * q.slopeStandardN && moved > 1.2 * quantumN
  return shows && (q.slopeNPerS > CLIMBING_SHARE * paceNPerS || -q.slopeNPerS > CREEPING_SHARE * paceNPerS)
}

/** How fast the force usually rises where it does, in N/s: median over windows of half a second or more; 0 for none. */
export function loadingPace(
  timeS: Float64Array,
  forceN: Float64Array,
  from: number,
  to: number,
  { noiseN, quantumN, periodS }: Pick<Signal, 'noiseN' | 'quantumN' | 'periodS'>,
): number {
  const lastsS = timeS[to - 1]! - timeS[from]!
  const windowS = Math.max(PACE_S, Math.min(MAX_PACE_S, lastsS / 100))
  const step = Math.max(
    5,
    Math.ceil(windowS / Math.max(periodS, 1e-9)),
    Math.ceil((to - from) / PACE_WINDOWS),
  )
  const { low, high } = reachOf(forceN, from, to)
  const least = Math.max(6 * noiseN, 2 * quantumN, 0.005 * (high - low))
  const paces: number[] = []
  for (let i = from; i + step < to; i += step) {
    const rise = forceN[i + step]! - forceN[i]!
    if (rise > least) paces.push(rise / (timeS[i + step]! - timeS[i]!))
  }
  return paces.sort((a, b) => a - b)[paces.length >> 1] ?? 0
}

/**
 * Whether a level stretch is a part of a ramp that noise or the display hides: the readings before and after it go on
 * through its level, in both directions by much the same, as quickly as loading or unloading does.
 */
export function passesThrough(
  timeS: Float64Array,
  forceN: Float64Array,
  q: Quiet,
  from: number,
  to: number,
  paceNPerS: number,
): boolean {
  const n = Math.max(3, q.to - q.from)
  const a = Math.max(from, q.from - n)
  const b = Math.min(to, q.to + n)
  if (q.from - a < 2 || b - q.to < 2) return false
  const beforeN = sumOf(forceN, a, q.from) / (q.from - a)
  const afterN = sumOf(forceN, q.to, b) / (b - q.to)
  const first = q.levelN - beforeN
  const second = afterN - q.levelN
  if (first * second <= 0) return false
  const ratio = Math.abs(first / second)
  if (ratio < 1 / EVEN || ratio > EVEN) return false
  const slope =
    Math.abs(afterN - beforeN) / ((timeS[b - 1]! + timeS[q.to]! - timeS[q.from - 1]! - timeS[a]!) / 2)
  return slope > CREEPING_SHARE * paceNPerS
}

/** A ramp goes on by as much after a stretch as before it, but for this factor. */
const EVEN = 4
