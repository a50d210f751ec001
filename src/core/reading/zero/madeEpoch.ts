import { reachOf } from '../../signal/scan.ts'
import type { Quiet } from '../quiet.ts'
import type { Epoch, ZeroInput } from './epoch.ts'
import type { ZeroBelief } from './zeroChain.ts'

/**
 * The indicator is believed: its zero is nought. Where readings of the wrong sign last, no load is below the lowest of
 * them, and the zero is taken there.
 */
export function asIndicated(
  from: number,
  to: number,
  beliefs: readonly ZeroBelief[],
  { timeS, forceN, signal }: ZeroInput,
): Epoch {
  const least = -Math.max(8 * signal.noiseN, 4 * signal.quantumN, 0.02 * reachOf(forceN, from, to).high)
  const need = Math.max(
    3,
    Math.round(WRONG_SIGN_S / Math.max(signal.periodS, 1e-9)),
    Math.round(WRONG_SIGN_SHARE * (to - from)),
  )
  let lowestN = 0
  for (let a = from; a + need <= to; a += Math.max(1, need >> 1)) {
    const { high } = reachOf(forceN, a, a + need)
    if (high < least && high < lowestN) lowestN = high
  }
  return {
    from,
    to,
    rests: [],
    basis: 'indicated',
    knots: [{ atS: timeS[from]!, levelN: lowestN }],
    standardN: 0,
    movedN: 0,
    drifts: false,
    steps: false,
    preloadN: 0,
    unseen: true,
    lone: false,
    beliefs,
  }
}

/** Readings of the wrong sign that last this long are no knock. */
const WRONG_SIGN_S = 0.3
/** And this share of the samples, where the clock may be wrong. */
const WRONG_SIGN_SHARE = 0.001

/**
 * The zero line where a zero stepped rather than drifted: it keeps the level of the rest before up to the last fall on
 * the way to the next, since a blow moves a cell and not the loading before it. `null` where nothing stepped.
 */
export function steppedKnots(
  timeS: Float64Array,
  forceN: Float64Array,
  rests: readonly Quiet[],
  rangeN: number,
  sameN: number,
): Epoch['knots'] | null {
  let any = false
  const knots = rests.flatMap((q, k) => {
    const own = [
      { atS: q.fromS, levelN: q.levelN },
      { atS: q.toS, levelN: q.levelN },
    ]
    const before = rests[k - 1]
    if (!before || Math.abs(q.levelN - before.levelN) <= sameN || onDrift(q, before, rangeN)) return own
    any = true
    const at = lastFallAt(forceN, before.to, q.from, before.levelN)
    return [{ atS: timeS[at - 1]!, levelN: before.levelN }, { atS: timeS[at]!, levelN: q.levelN }, ...own]
  })
  return any ? knots : null
}

/** The first sample after the force was for the last time over half of its greatest in [from, to). */
function lastFallAt(forceN: Float64Array, from: number, to: number, levelN: number): number {
  const { high } = reachOf(forceN, from, to)
  let i = to - 1
  while (i > from && forceN[i]! < levelN + 0.5 * (high - levelN)) i--
  return Math.max(1, i + 1)
}

export function seen(
  from: number,
  to: number,
  rests: readonly Quiet[],
  preloadN: number,
  standardN: number,
  drifts = false,
): Epoch {
  const levels = rests.map(q => q.levelN)
  return {
    from,
    to,
    rests,
    basis: 'rest',
    knots: rests.flatMap(q => [
      { atS: q.fromS, levelN: q.levelN },
      { atS: q.toS, levelN: q.levelN },
    ]),
    standardN,
    movedN: Math.max(...levels) - Math.min(...levels),
    drifts,
    preloadN,
    steps: false,
    unseen: false,
    lone: false,
    beliefs: [],
  }
}

/** Two rests that differ do so by drift when the slope within each leads from the one to the other. */
export function onDrift(q: Quiet, lowest: Quiet, range: number): boolean {
  const apartS = (q.fromS + q.toS - lowest.fromS - lowest.toS) / 2
  const slope = (q.levelN - lowest.levelN) / apartS
  const agrees = (r: Quiet): boolean =>
    Math.abs(r.slopeNPerS - slope) < 3 * r.slopeStandardN + 0.3 * Math.abs(slope) &&
    Math.abs(r.slopeNPerS) > 3 * r.slopeStandardN
  return Math.abs(q.levelN - lowest.levelN) < 0.1 * range && agrees(q) && agrees(lowest)
}
