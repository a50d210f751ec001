import type { Drop } from './measureDrop.ts'
import type { PullSpan } from './pulls.ts'
import type { Quiet } from './quiet.ts'

/** So many steps up make a loading by weights; each must have risen by this share of the fall over as many readings. */
const MIN_STEPS = 3
const STEP_SHARE = 0.6
/** More drops than this are a texture, not weights. */
const MOST_DROPS = 60

/**
 * Drops without those at which a weight was taken off. Where the load came by steps from one stillness to the next, a
 * fall that is no greater and no more abrupt than these is the same hand at work. A part that breaks under a hanging
 * weight takes no load off the cell, and a specimen that breaks drops all of them at once.
 */
export function withoutLiftedOff(
  loadN: Float64Array,
  pulls: readonly PullSpan[],
  quiets: readonly Quiet[],
  drops: readonly Drop[],
): readonly Drop[] {
  if (drops.length > MOST_DROPS) return drops
  return drops.filter(({ pull, from, to, beforeN, afterN }) => {
    const { from: first } = pulls[pull]!
    const over = to - from
    const longest = over + REACH
    // The first step leads from the rest before the pull.
    const still = quiets.filter(q => q.to > first - longest && q.from < from)
    const leastN = STEP_SHARE * (beforeN - afterN)
    const isStep = (next: Quiet, k: number): boolean => {
      const last = still[k - 1]
      if (last === undefined || next.from - last.to > longest) return false
      return steepestN(loadN, last.to - 1, next.from, over) >= leastN
    }
    return still.filter(isStep).length < MIN_STEPS
  })
}

/** A step takes at most so many readings more than the fall, the ends of the stillnesses beside it included. */
const REACH = 40

/** Greatest rise over `over` readings from `from` to `to`, in N. */
function steepestN(loadN: Float64Array, from: number, to: number, over: number): number {
  let most = 0
  for (let i = from; i < to; i++) {
    const end = Math.min(i + over, to)
    most = Math.max(most, loadN[end]! - loadN[i]!)
  }
  return most
}
