import { censoredMean } from '../group/censoredMean.ts'
import { mean, variance } from '../group/moments.ts'
import { detectableBy } from '../plan/power.ts'
import type { BlockedPair } from './blocks.ts'
import { sharedStandardOfDifference } from './doubt.ts'
import { type EffectSize, hedges } from './hedges.ts'
import { type MannWhitney, mannWhitney } from './mannWhitney.ts'
import { type Permutation, permutationTest } from './permutation.ts'
import { criticalIn, type Estimate, type Family } from './simultaneous.ts'
import { atLeastOf, measuredOf, type Specimen, valuesOf } from './specimen.ts'
import { type Superiority, superiority } from './superiority.ts'
import { likeScatterParts, type WelchTest, welch, welchAsLikeScatter } from './welch.ts'

/** What a pair is judged by: an estimate with its doubt, or the ranks alone where no estimate can be had. */
export type Decision =
  /** `parts`: the variances of the two means, of which the estimate's standard error is made. */
  | {
      readonly by: 'welch' | 'censored'
      readonly estimate: Estimate
      readonly parts: readonly [number, number]
    }
  | {
      readonly by: 'blocks' | 'covariate'
      readonly estimate: Estimate
      readonly direction: readonly number[]
    }
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
  /** The layout that decides, where blocks do. */
  readonly layout: { readonly blocks: number; readonly perCell: number } | null
  /** Scatter common to both, on one degree of freedom at least; with blocks, that within them. */
  readonly pooledSd: number | null
  /** What the verdict goes by; `null` where nothing can be told. */
  readonly decision: Decision | null
}

/** A pair from a model of all groups that takes a known cause out. */
export interface AdjustedPair {
  readonly by: 'blocks' | 'covariate'
  readonly pair: BlockedPair
  readonly residualSd: number
  readonly layout: PairTests['layout']
}

/** All that two groups say of each other. `adjusted`: their pair from a model of all, where one was wanted and had. */
export function comparePair(
  a: readonly Specimen[],
  b: readonly Specimen[],
  { adjusted, seed }: { adjusted: AdjustedPair | null; seed: number },
): PairTests {
  // Ranks can use a bound, means cannot: without the strongest specimens they would be too low.
  const [rankedA, rankedB] = [ranked(a), ranked(b)]
  const bounded = atLeastOf(a).length + atLeastOf(b).length > 0
  const [x, y] = bounded
    ? [new Float64Array(), new Float64Array()]
    : [valuesOf(measuredOf(a)), valuesOf(measuredOf(b))]
  const ranks = mannWhitney(rankedA.values, rankedB.values, rankedA.atLeast, rankedB.atLeast)
  const shared = sharedStandardOfDifference(valuedOf(a), valuedOf(b))
  const within = bounded ? null : adjusted
  const estimated = bounded ? censoredDifference(rankedA, rankedB) : null
  return {
    nA: rankedA.values.length,
    nB: rankedB.values.length,
    difference: estimated?.estimate.difference ?? (x.length > 0 && y.length > 0 ? mean(x) - mean(y) : null),
    welch: welch(x, y),
    mannWhitney: ranks,
    permutation: permutationTest(x, y, seed),
    effect: hedges(x, y),
    // One against one says who won, not how often: “0 of 100” would be a figure that the record does not show.
    superiority:
      rankedA.values.length + rankedB.values.length < 3
        ? null
        : superiority(rankedA.values, rankedB.values, rankedA.atLeast, rankedB.atLeast),
    layout: within?.layout ?? null,
    pooledSd: within?.residualSd ?? estimated?.sd ?? pooledSd(x, y),
    decision: estimated
      ? { by: 'censored', estimate: { ...estimated.estimate, shared }, parts: estimated.parts }
      : decide(within, bounded ? ranks : null, [x, y], shared),
  }
}

const valuedOf = (group: readonly Specimen[]) => [...measuredOf(group), ...atLeastOf(group)]

const ranked = (group: readonly Specimen[]) => {
  const used = valuedOf(group)
  return { values: valuesOf(used), atLeast: used.map(s => s.status === 'at-least') }
}

/**
 * Difference of two means where some only reached their value: each mean by maximum likelihood with these as bounds, degrees of
 * freedom after Satterthwaite. `null` where a group has too few that broke; ranks are all that is left then.
 */
function censoredDifference(
  a: ReturnType<typeof ranked>,
  b: ReturnType<typeof ranked>,
): {
  readonly estimate: Omit<Estimate, 'shared'>
  readonly sd: number
  readonly parts: readonly [number, number]
} | null {
  const [x, y] = [censoredMean(a.values, a.atLeast), censoredMean(b.values, b.atLeast)]
  if (x === null || y === null) return null
  const [partA, partB] = [x.standardError ** 2, y.standardError ** 2]
  return {
    estimate: {
      difference: x.mean - y.mean,
      standardError: Math.sqrt(partA + partB),
      df: (partA + partB) ** 2 / (partA ** 2 / x.df + partB ** 2 / y.df),
    },
    parts: [partA, partB],
    sd: Math.sqrt((x.df * x.sd ** 2 + y.df * y.sd ** 2) / (x.df + y.df)),
  }
}

/** Bounds leave no fair mean, so ranks decide; blocks or a covariate take a known cause out; else Welch. */
function decide(
  adjusted: AdjustedPair | null,
  ranks: MannWhitney | null,
  [x, y]: readonly [Float64Array, Float64Array],
  shared: number,
): Decision | null {
  if (ranks) return { by: 'ranks', p: ranks.p }
  const from = adjusted?.pair ?? welchAsLikeScatter(x, y)
  if (from === null) return null
  const { difference, standardError, df } = from
  const estimate = { difference, standardError, df, shared }
  return adjusted
    ? { by: adjusted.by, estimate, direction: adjusted.pair.direction }
    : { by: 'welch', estimate, parts: likeScatterParts(x, y) }
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
  if (decision?.by === 'blocks' || decision?.by === 'covariate' || decision?.by === 'censored') {
    const { df, standardError, shared } = decision.estimate
    const critical = criticalIn(family, df)
    return detectableBy({ standardError: Math.hypot(standardError, shared), df, critical })
  }
  const df = nA + nB - 2
  if (sd === null || !(sd > 0) || df < 1) return null
  const shared = decision?.by === 'welch' ? decision.estimate.shared : 0
  const critical = criticalIn(family, df)
  return detectableBy({ standardError: Math.hypot(sd * Math.sqrt(1 / nA + 1 / nB), shared), df, critical })
}
