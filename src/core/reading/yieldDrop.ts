import type { Drop } from './measureDrop.ts'
import { dropPriors } from './priors.ts'
import type { PullSpan } from './pulls.ts'

/**
 * Drops without the one at which a metal yields. Its upper yield point falls as abruptly as a part that breaks; but a
 * specimen that has lost a part is loaded on at the pace of before, less the share that went, while one that yields is
 * stretched on and never takes load at that pace again, though it comes to carry more. A drive that stopped at the
 * sound of a crack goes on at its pace later.
 *
 * Only the first drop of a pull can be one, and only a small one. `elements` told: its parts break.
 */
export function withoutYield(
  timeS: Float64Array,
  loadN: Float64Array,
  pulls: readonly PullSpan[],
  drops: readonly Drop[],
  elements: number | null,
): readonly Drop[] {
  if (elements !== null) return drops
  const first = new Map<number, Drop>()
  for (const drop of drops) if (!first.has(drop.pull)) first.set(drop.pull, drop)
  return drops.filter(drop => drop !== first.get(drop.pull) || !yields(timeS, loadN, pulls[drop.pull]!, drop))
}

/** An upper yield point stands at most this much above what follows, as a share of the force. */
const MOST_SHARE = 0.15
/** Loading on at the pace of before, over the time of so many falls, shows that the drive goes on. */
const FALLS = 3
const LEAST_SAMPLES = 10

function yields(timeS: Float64Array, loadN: Float64Array, pull: PullSpan, drop: Drop): boolean {
  const { from, to, beforeN, afterN, share } = drop
  if (share > MOST_SHARE || drop.cut || drop.stops || drop.leavesNothing) return false
  let half = from
  while (half > pull.from && loadN[half]! > 0.5 * beforeN) half--
  const paceNPerS = (loadN[from]! - loadN[half]!) / (timeS[from]! - timeS[half]!)
  if (!(paceNPerS > 0)) return false
  const overS = (FALLS * (beforeN - afterN)) / paceNPerS
  let topN = 0
  let steepest = 0
  let start = to
  for (let i = to; i < pull.to; i++) {
    topN = Math.max(topN, loadN[i]!)
    while (timeS[i]! - timeS[start + 1]! >= overS && i - start > LEAST_SAMPLES) start++
    const lastS = timeS[i]! - timeS[start]!
    if (lastS >= overS && i - start >= LEAST_SAMPLES)
      steepest = Math.max(steepest, (loadN[i]! - loadN[start]!) / lastS)
  }
  return topN > beforeN && steepest > 0 && steepest < dropPriors.loadsOn * paceNPerS
}
