import { perGroupForDifference, powerBy, smallest } from '../plan/power.ts'
import { detectableOf, type PairTests } from './comparePair.ts'
import { criticalIn, type Family } from './simultaneous.ts'

/** Difference worth knowing unless the user says otherwise: a tenth of the mean. */
export const WORTH_SHARE = 0.1

export interface NeedMore {
  /** Specimens to pull of each group beyond those there are. */
  readonly perGroup: number
  /** How many that makes of each. */
  readonly inAll: number
  /** With blocks: how many more blocks that makes, each like those so far. */
  readonly blocks?: number | null
  /** The difference that would then be seen 8 times in 10, in the comparison's unit; `null` while no scatter is known. */
  readonly toSee: number | null
  /** The same as a share of the mean, in percent. */
  readonly toSeePct: number | null
}

/**
 * How many more specimens the question needs: to see a difference worth knowing (`worthShare` of the mean) 8 times in
 * 10, in the pairs in which none was seen so far, from the scatter so far. `null` where nothing more is needed.
 */
export function needMore(
  pairs: readonly { readonly tests: PairTests; readonly settled: boolean; readonly middle: number }[],
  { worthShare, family }: { worthShare: number; family: Family },
): NeedMore | null {
  const open = pairs.filter(p => !p.settled)
  if (open.length === 0) return null
  const fewest = Math.min(...open.flatMap(p => [p.tests.nA, p.tests.nB]))
  // Below these numbers nothing can be seen, whatever the difference.
  const blind = fewest < 2 ? 3 : open.some(cannotShow) ? 4 : 0
  if (blind > 0) return { perGroup: Math.max(1, blind - fewest), inAll: blind, toSee: null, toSeePct: null }
  let most: NeedMore | null = null
  for (const { tests, middle } of open) {
    const worth = Math.abs(middle) * worthShare
    const detectable = detectableOf(tests, family)
    if (!(worth > 0) || detectable === null || detectable <= worth) continue
    if (tests.decision?.by === 'blocks' && tests.layout !== null) {
      const blocks = blocksFor(worth, tests, family)
      if (blocks === null) continue
      const more = blocks - tests.layout.blocks
      const perGroup = Math.ceil(more * tests.layout.perCell)
      if (most === null || perGroup > most.perGroup)
        most = {
          perGroup,
          inAll: Math.max(tests.nA, tests.nB) + perGroup,
          blocks: more,
          toSee: worth,
          toSeePct: worthShare * 100,
        }
      continue
    }
    const inAll = perGroupForDifference(worth, {
      sd: tests.pooledSd!,
      alpha: family.level / Math.max(1, family.count),
    })
    if (inAll === null) continue
    const perGroup = Math.max(1, inAll - Math.min(tests.nA, tests.nB))
    if (most === null || perGroup > most.perGroup)
      most = { perGroup, inAll, toSee: worth, toSeePct: worthShare * 100 }
  }
  return most
}

/** The fewest blocks, each filled as those so far, with which the deciding test would see `worth` 8 times in 10. */
function blocksFor(worth: number, { decision, layout }: PairTests, family: Family): number | null {
  if (decision?.by !== 'blocks' || layout === null) return null
  const { standardError, df } = decision.estimate
  const now = layout.blocks
  return smallest(blocks => {
    if (blocks <= now) return false
    const grown = (df * (blocks - 1)) / (now - 1)
    const critical = criticalIn(family, grown)
    return (
      powerBy(worth, { standardError: standardError * Math.sqrt(now / blocks), df: grown, critical }) >= 0.8
    )
  })
}

/** Ranks of so few specimens never come to a p under 0.05. */
const cannotShow = ({ tests }: { tests: PairTests }): boolean =>
  tests.decision?.by === 'ranks' && tests.mannWhitney!.smallestP >= 0.05
