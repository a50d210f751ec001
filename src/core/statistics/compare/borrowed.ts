import { logGamma } from '../distributions/gamma.ts'
import { findRoot } from '../distributions/root.ts'
import { tTwoSided } from '../distributions/t.ts'
import { mean, variance } from '../group/moments.ts'

/** A relative scatter: variance as a share of the squared mean, and the degrees of freedom that it stands on. */
export interface RelativeScatter {
  readonly square: number
  readonly df: number
}

/** What groups of like studies say of how much specimens of one kind scatter. */
export interface ScatterPrior {
  /** Typical scatter as a share of the mean, and the range in which 95 of 100 like groups lie. */
  readonly cv: number
  readonly cv95: readonly [number, number]
  /** Degrees of freedom that the like groups are worth: many where they scatter alike. */
  readonly worthDf: number
  readonly groups: number
  /** Points of the posterior over (worth, typical scatter), with the chance of each. */
  readonly points: readonly PriorPoint[]
}

interface PriorPoint {
  readonly df: number
  readonly square: number
  readonly chance: number
}

/** Fewest like groups that say how much scatters differ from one to another. */
export const LEAST_LIKE = 3

/** How alike groups may scatter, in degrees of freedom that the rest is worth to one: each as likely beforehand. */
const WORTHS = [1, 2, 4, 8, 16, 32, 64] as const
/** Points of the typical scatter, evenly over its logarithm, each as likely beforehand. */
const PLACES = 61
const REACH = 2.5

/** The scatter of one group of like specimens; `null` where it shows none or its mean is not above 0. */
export function relativeScatter(values: ArrayLike<number>): RelativeScatter | null {
  if (values.length < 2) return null
  const [middle, own] = [mean(values), variance(values)]
  return middle > 0 && own > 0 ? { square: own / middle ** 2, df: values.length - 1 } : null
}

/**
 * Hierarchical model: the relative variances of like groups are drawn from a scaled inverse χ² of ν₀ degrees of freedom about s₀²,
 * so that one found on ν degrees of freedom is s₀² F(ν, ν₀) (Gelman and others, Bayesian Data Analysis, 2013, chapter 5; the conjugate form as
 * in Smyth, Stat. Appl. Genet. Mol. Biol. 3 (2004) 3). Beforehand ν₀ is any of 1, 2, 4 … 64 and ln s₀ anywhere, all as likely; the posterior of both is
 * laid on a grid. `null` with fewer than {@link LEAST_LIKE} groups.
 */
export function scatterPrior(like: readonly RelativeScatter[]): ScatterPrior | null {
  if (like.length < LEAST_LIKE) return null
  const middle = Math.log(
    like.reduce((sum, g) => sum + g.df * g.square, 0) / like.reduce((sum, g) => sum + g.df, 0),
  )
  const laid = WORTHS.flatMap(df =>
    Array.from({ length: PLACES }, (_, i) => {
      const square = Math.exp(middle + REACH * ((2 * i) / (PLACES - 1) - 1))
      return { df, square, log: like.reduce((sum, g) => sum + logLikelihood(g, df, square), 0) }
    }),
  )
  const most = Math.max(...laid.map(p => p.log))
  const all = laid.reduce((sum, p) => sum + Math.exp(p.log - most), 0)
  const points = laid.map(({ df, square, log }) => ({ df, square, chance: Math.exp(log - most) / all }))
  const typical = points.reduce((sum, p) => sum + p.chance * Math.log(p.square), 0)
  const worth = Math.exp(points.reduce((sum, p) => sum + p.chance * Math.log(p.df), 0))
  const spread = (z: number): number => Math.exp((typical + z * Math.sqrt(2 / worth)) / 2)
  return {
    cv: Math.exp(typical / 2),
    cv95: [spread(-1.96), spread(1.96)],
    worthDf: worth,
    groups: like.length,
    points,
  }
}

/** ln of the density of s² = s₀² F(ν, ν₀), but for what does not depend on ν₀ and s₀. */
function logLikelihood({ square, df }: RelativeScatter, worth: number, typical: number): number {
  const ratio = square / typical
  return (
    logGamma((df + worth) / 2) -
    logGamma(worth / 2) +
    (df / 2) * Math.log((df * ratio) / worth) -
    ((df + worth) / 2) * Math.log1p((df * ratio) / worth)
  )
}

export interface BorrowedDifference {
  readonly difference: number
  readonly ci95: readonly [number, number]
  readonly p: number
  /** Standard deviation as a share of the mean that comes of both together. */
  readonly cv: number
}

/**
 * Difference of two means with the scatter of like groups beside their own: given ν₀ and s₀ it is t of ν₀ + ν degrees of freedom with
 * the variance (ν₀ s₀² + ν s²)/(ν₀ + ν); the mean of these over the posterior. Both groups are taken to scatter alike as a share of their means. For `count`
 * pairs together after Bonferroni.
 */
export function borrowedDifference(
  a: ArrayLike<number>,
  b: ArrayLike<number>,
  prior: ScatterPrior,
  count = 1,
): BorrowedDifference | null {
  const own = [relativeScatter(a), relativeScatter(b)].filter(s => s !== null)
  const [meanA, meanB] = [mean(a), mean(b)]
  if (!(meanA > 0) || !(meanB > 0) || a.length < 2 || b.length < 2) return null
  const df = own.reduce((sum, s) => sum + s.df, 0)
  const square = df > 0 ? own.reduce((sum, s) => sum + s.df * s.square, 0) / df : 0
  const length = Math.sqrt(meanA ** 2 / a.length + meanB ** 2 / b.length)
  // The pair itself tells which of the points fit it.
  const logs = prior.points.map(
    p => Math.log(p.chance) + (df > 0 ? logLikelihood({ square, df }, p.df, p.square) : 0),
  )
  const most = Math.max(...logs)
  const all = logs.reduce((sum, l) => sum + Math.exp(l - most), 0)
  const parts = prior.points.flatMap((p, i) => {
    const chance = Math.exp(logs[i]! - most) / all
    const together = p.df + df
    const pooled = (p.df * p.square + df * square) / together
    return chance < 1e-9 ? [] : [{ chance, df: together, pooled, error: Math.sqrt(pooled) * length }]
  })
  const difference = meanA - meanB
  const beyond = (half: number): number =>
    parts.reduce((sum, part) => sum + part.chance * tTwoSided(half / part.error, part.df), 0)
  const level = 0.05 / count
  let high = 3 * Math.max(...parts.map(p => p.error))
  while (beyond(high) > level) high *= 2
  const half = findRoot(h => Math.log(beyond(h) / level), high / 1e6, high)
  const cv = Math.exp(parts.reduce((sum, p) => sum + p.chance * Math.log(p.pooled), 0) / 2)
  return {
    difference,
    ci95: [difference - half, difference + half],
    p: Math.min(1, count * beyond(Math.abs(difference))),
    cv,
  }
}
