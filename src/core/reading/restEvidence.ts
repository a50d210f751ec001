import { reachOf } from '../signal/scan.ts'
import type { Signal } from '../signal/summary.ts'
import type { Quiet } from './quiet.ts'

/** What tells a rest from a held load, a slow ramp or a push: the witnesses that `findZeros` hears. */

/** A stretch that moves faster than this share of the loading is a slow part of it, and one that climbs by this. */
const CREEPING_SHARE = 0.1
const CLIMBING_SHARE = 0.035
/** Windows in which the pace of loading is looked for: no shorter than this, and no more of them. */
const PACE_S = 0.5
const PACE_WINDOWS = 400

/** Whether two clean samples, or one by far, lie under a level. */
export function readsLower(
  forceN: Float64Array,
  from: number,
  to: number,
  levelN: number,
  farN: number,
): boolean {
  let lower = 0
  for (let i = from; i < to && lower < 2; i++) {
    if (forceN[i]! < levelN) lower += forceN[i]! < levelN - farN ? 2 : 1
  }
  return lower >= 2
}

/** Whether the last samples lie at a level, however few: a break that lands where the record began is no chance. */
export function endsAt(
  forceN: Float64Array,
  from: number,
  to: number,
  levelN: number,
  close: number,
): boolean {
  let i = to
  while (i > from && Math.abs(forceN[i - 1]! - levelN) <= close) i--
  return to - i >= 2
}

/** A held load creeps down; a rest does not, but for drift, which nothing tells from it without another rest. */
export const relaxes = (q: Quiet, quantumN: number): boolean =>
  q.slopeNPerS < -5 * q.slopeStandardN && -q.slopeNPerS * (q.toS - q.fromS) > Math.max(2 * q.noiseN, quantumN)

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
  const step = Math.max(5, Math.ceil(PACE_S / Math.max(periodS, 1e-9)), Math.ceil((to - from) / PACE_WINDOWS))
  const { low, high } = reachOf(forceN, from, to)
  const least = Math.max(6 * noiseN, 2 * quantumN, 0.005 * (high - low))
  const paces: number[] = []
  for (let i = from; i + step < to; i += step) {
    const rise = forceN[i + step]! - forceN[i]!
    if (rise > least) paces.push(rise / (timeS[i + step]! - timeS[i]!))
  }
  return paces.sort((a, b) => a - b)[paces.length >> 1] ?? 0
}
