import { tQuantile, tTwoSided } from '../distributions/t.ts'
import { mean, variance } from '../group/moments.ts'
import { detectableDifference } from '../plan/power.ts'
import type { BlockedPair } from './blocks.ts'
import { sharedStandardOfDifference } from './doubt.ts'
import { type EffectSize, hedges } from './hedges.ts'
import { type MannWhitney, mannWhitney } from './mannWhitney.ts'
import { type Permutation, permutationTest } from './permutation.ts'
import { atLeastOf, measuredOf, type Specimen, valuesOf } from './specimen.ts'
import { type Superiority, superiority } from './superiority.ts'
import { type WelchTest, welch } from './welch.ts'

export interface PairTests {
  /** Specimens with a value, those that only reached it included. */
  readonly nA: number
  readonly nB: number
  /** Mean of the first less mean of the second; `null` where a group has no value, or one that only reached a bound. */
  readonly difference: number | null
  readonly welch: WelchTest | null
  /** Welch's test with the doubt that the groups do not share added to the standard error. */
  readonly withDoubt: {
    readonly sharedStandard: number
    readonly ci95: readonly [number, number]
    readonly p: number
  } | null
  readonly mannWhitney: MannWhitney | null
  readonly permutation: Permutation | null
  readonly effect: EffectSize | null
  readonly superiority: Superiority | null
  /** Scatter common to both, on one degree of freedom at least. */
  readonly pooledSd: number | null
  /** What the verdict goes by; `null` where nothing can be told. */
  readonly decision: { readonly by: 'blocks' | 'ranks' | 'welch'; readonly p: number } | null
}

/** All that two groups say of each other. `blocked`: their pair from a two-way layout, where one was wanted and had. */
export function comparePair(
  a: readonly Specimen[],
  b: readonly Specimen[],
  { blocked, seed }: { blocked: BlockedPair | null; seed: number },
): PairTests {
  // Ranks can use a bound, means cannot: without the strongest specimens they would be too low.
  const [rankedA, rankedB] = [ranked(a), ranked(b)]
  const bounded = atLeastOf(a).length + atLeastOf(b).length > 0
  const [x, y] = bounded
    ? [new Float64Array(), new Float64Array()]
    : [valuesOf(measuredOf(a)), valuesOf(measuredOf(b))]
  const test = welch(x, y)
  const withDoubt = test && widened(test, sharedStandardOfDifference(measuredOf(a), measuredOf(b)))
  const ranks = mannWhitney(rankedA.values, rankedB.values, rankedA.atLeast, rankedB.atLeast)
  return {
    nA: rankedA.values.length,
    nB: rankedB.values.length,
    difference: x.length > 0 && y.length > 0 ? mean(x) - mean(y) : null,
    welch: test,
    withDoubt,
    mannWhitney: ranks,
    permutation: permutationTest(x, y, seed),
    effect: hedges(x, y),
    superiority: superiority(rankedA.values, rankedB.values, rankedA.atLeast, rankedB.atLeast),
    pooledSd: pooledSd(x, y),
    decision: decide(bounded ? null : blocked, bounded ? ranks : null, withDoubt ?? test),
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
  test: { readonly p: number } | null,
): PairTests['decision'] {
  if (ranks) return { by: 'ranks', p: ranks.p }
  if (blocked) return { by: 'blocks', p: blocked.p }
  return test && { by: 'welch', p: test.p }
}

/**
 * The shared part joins the standard error (GUM, JCGM 100:2008, 5.1.2). Welch's degrees of freedom are kept, so that the
 * interval is never shorter for a doubt more.
 */
function widened(test: WelchTest, sharedStandard: number): PairTests['withDoubt'] {
  if (!(sharedStandard > 0)) return null
  const error = Math.hypot(test.standardError, sharedStandard)
  const half = tQuantile(0.975, test.df) * error
  return {
    sharedStandard,
    ci95: [test.difference - half, test.difference + half],
    p: tTwoSided(test.difference / error, test.df),
  }
}

function pooledSd(x: Float64Array, y: Float64Array): number | null {
  const df = x.length + y.length - 2
  if (x.length === 0 || y.length === 0 || df < 1) return null
  const squares = (v: Float64Array): number => (v.length < 2 ? 0 : variance(v) * (v.length - 1))
  return Math.sqrt((squares(x) + squares(y)) / df)
}

/** The smallest difference that these numbers and this scatter would have shown 8 times in 10, out of `pairs` asked. */
export const detectableOf = ({ nA, nB, pooledSd: sd }: PairTests, pairs: number): number | null =>
  sd === null || sd === 0 ? null : detectableDifference({ nA, nB, sd, alpha: 0.05 / pairs })
