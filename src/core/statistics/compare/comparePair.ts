import { maximumModulusCritical } from '../distributions/studentizedMaximumModulus.ts'
import { mean, variance } from '../group/moments.ts'
import { detectableBy } from '../plan/power.ts'
import type { BlockedPair } from './blocks.ts'
import { sharedStandardOfDifference } from './doubt.ts'
import { type EffectSize, hedges } from './hedges.ts'
import { type MannWhitney, mannWhitney } from './mannWhitney.ts'
import { type Permutation, permutationTest } from './permutation.ts'
import type { Estimate, Family } from './simultaneous.ts'
import { atLeastOf, measuredOf, type Specimen, valuesOf } from './specimen.ts'
import { type Superiority, superiority } from './superiority.ts'
import { type WelchTest, welch, welchAsLikeScatter } from './welch.ts'

/** What a pair is judged by: an estimate with its doubt, or the ranks alone where no estimate can be had. */
export type Decision =
  | { readonly by: 'welch' | 'blocks'; readonly estimate: Estimate }
  | { readonly by: 'ranks'; readonly p: number }

export interface PairTests {
  /** Specimens with a value, those that only reached it included. */
  readonly nA: number
  readonly nB: number
  /** Mean of the first less mean of the second; `null` where a group has no value, or one that only reached a bound. */
  readonly difference: number | null
  readonly welch: WelchTest | null
  readonly mannWhitney: MannWhitney | null
  readonly permutation: Permutation | null
  readonly effect: EffectSize | null
  readonly superiority: Superiority | null
  /** Scatter common to both, on one degree of freedom at least; with blocks, that within them. */
  readonly pooledSd: number | null
  /** What the verdict goes by; `null` where nothing can be told. */
  readonly decision: Decision | null
}

/** All that two groups say of each other. `blocked`: their pair from a two-way layout, where one was wanted and had. */
export function comparePair(
  a: readonly Specimen[],
  b: readonly Specimen[],
  { blocked, blockedSd, seed }: { blocked: BlockedPair | null; blockedSd: number | null; seed: number },
): PairTests {
  // Ranks can use a bound, means cannot: without the strongest specimens they would be too low.
  const [rankedA, rankedB] = [ranked(a), ranked(b)]
  const bounded = atLeastOf(a).length + atLeastOf(b).length > 0
  const [x, y] = bounded
    ? [new Float64Array(), new Float64Array()]
    : [valuesOf(measuredOf(a)), valuesOf(measuredOf(b))]
  const ranks = mannWhitney(rankedA.values, rankedB.values, rankedA.atLeast, rankedB.atLeast)
  const shared = sharedStandardOfDifference(measuredOf(a), measuredOf(b))
  const within = bounded ? null : blocked
  return {
    nA: rankedA.values.length,
    nB: rankedB.values.length,
    difference: x.length > 0 && y.length > 0 ? mean(x) - mean(y) : null,
    welch: welch(x, y),
    mannWhitney: ranks,
    permutation: permutationTest(x, y, seed),
    effect: hedges(x, y),
    superiority: superiority(rankedA.values, rankedB.values, rankedA.atLeast, rankedB.atLeast),
    pooledSd: within ? blockedSd : pooledSd(x, y),
    decision: decide(within, bounded ? ranks : null, welchAsLikeScatter(x, y), shared),
  }
}

const ranked = (group: readonly Specimen[]) => {
  const used = [...measuredOf(group), ...atLeastOf(group)]
  return { values: valuesOf(used), atLeast: used.map(s => s.status === 'at-least') }
}

/** Bounds leave no fair mean, so ranks decide; blocks take a known cause out; else Welch. */
function decide(
  blocked: BlockedPair | null,
  ranks: MannWhitney | null,
  test: WelchTest | null,
  shared: number,
): Decision | null {
  if (ranks) return { by: 'ranks', p: ranks.p }
  const from = blocked ?? test
  if (from === null) return null
  const { difference, standardError, df } = from
  return { by: blocked ? 'blocks' : 'welch', estimate: { difference, standardError, df, shared } }
}

function pooledSd(x: Float64Array, y: Float64Array): number | null {
  const df = x.length + y.length - 2
  if (x.length === 0 || y.length === 0 || df < 1) return null
  const squares = (v: Float64Array): number => (v.length < 2 ? 0 : variance(v) * (v.length - 1))
  return Math.sqrt((squares(x) + squares(y)) / df)
}

/**
 * The smallest difference that the deciding test would have shown 8 times in 10 with these numbers and this scatter,
 * judged together with the family. Where Welch decides, the scatter is taken as common to both groups: single degrees of
 * freedom of one sample would tell of its luck. `null` where nothing was decided, or ranks did it.
 */
export function detectableOf({ nA, nB, pooledSd: sd, decision }: PairTests, family: Family): number | null {
  if (decision?.by === 'blocks') {
    const { df, standardError, shared } = decision.estimate
    const critical = maximumModulusCritical(family.level, family.count, df)
    return detectableBy({ standardError: Math.hypot(standardError, shared), df, critical })
  }
  const df = nA + nB - 2
  if (sd === null || !(sd > 0) || df < 1) return null
  const shared = decision?.by === 'welch' ? decision.estimate.shared : 0
  const critical = maximumModulusCritical(family.level, Math.max(1, family.count), df)
  return detectableBy({ standardError: Math.hypot(sd * Math.sqrt(1 / nA + 1 / nB), shared), df, critical })
}
