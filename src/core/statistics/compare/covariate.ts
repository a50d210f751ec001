import { Matrix, QrDecomposition } from 'ml-matrix'
import { fUpperTail } from '../distributions/f.ts'
import { tQuantile, tTwoSided } from '../distributions/t.ts'
import { mean } from '../group/moments.ts'
import type { FTest } from './anova.ts'
import type { BlockedPair } from './blocks.ts'
import { directionThrough, lengthThrough } from './combination.ts'
import { pairs } from './pairs.ts'

export interface Covaried {
  readonly group: number
  readonly x: number
  readonly value: number
}

/** Groups compared as if all their specimens had the same of what was measured on each: width, mass, thickness. */
export interface CovariateLayout {
  /** Change of the value for one more of the covariate, common to all groups. */
  readonly slope: number
  readonly ci95: readonly [number, number]
  readonly t: number
  readonly df: number
  readonly p: number
  /** The covariate at which the groups are compared: its mean. */
  readonly at: number
  /** Each group's mean there. */
  readonly adjusted: readonly number[]
  readonly residualSd: number
  /** Scatter within groups without the covariate. */
  readonly sdWithout: number
  /** Does the value change alike in all groups? `null` where too few to tell. */
  readonly slopesAlike: FTest | null
  /** Do the groups differ in the covariate itself? */
  readonly groupsDiffer: FTest | null
  readonly pairs: readonly BlockedPair[]
}

/**
 * Analysis of covariance: value = group + slope × covariate + scatter, one slope and one scatter for all (Snedecor and Cochran,
 * Statistical Methods, 1989, chapter 18). `null` where fewer than two groups have values, the covariate is the same within every group,
 * or no degree of freedom is left.
 */
export function covariateLayout(observations: readonly Covaried[], groups: number): CovariateLayout | null {
  const n = observations.length
  if (groups < 2 || new Set(observations.map(o => o.group)).size < groups) return null
  const at = mean(observations.map(o => o.x))
  const middle = mean(observations.map(o => o.value))
  const rowOf = ({ group, x }: Covaried): number[] => [
    ...Array.from({ length: groups }, (_, g): number => (g === group ? 1 : 0)),
    x - at,
  ]
  const within = withinGroups(observations, groups)
  const df = n - groups - 1
  if (df < 1 || !(within.sxx > 1e-12 * (1 + at * at))) return null
  const qr = new QrDecomposition(new Matrix(observations.map(rowOf)))
  const found = qr.solve(Matrix.columnVector(observations.map(o => o.value - middle))).to1DArray()
  const r = qr.upperTriangularMatrix
  const rss = within.syy - within.sxy ** 2 / within.sxx
  const residualSd = Math.sqrt(Math.max(0, rss) / df)
  if (!(residualSd > 0)) return null
  const critical = tQuantile(0.975, df)
  const estimateOf = (combination: readonly number[]) => {
    const difference = combination.reduce((sum, c, j) => sum + c * found[j]!, 0)
    const standardError = residualSd * lengthThrough(r, combination)
    const t = difference / standardError
    const half = critical * standardError
    const ci95 = [difference - half, difference + half] as const
    return { difference, standardError, ci95, t, df, p: tTwoSided(t, df) }
  }
  const { difference: slope, ci95, t, p } = estimateOf([...Array.from({ length: groups }, () => 0), 1])
  return {
    slope,
    ci95,
    t,
    df,
    p,
    at,
    adjusted: found.slice(0, groups).map(v => v + middle),
    residualSd,
    sdWithout: Math.sqrt(within.syy / (n - groups)),
    slopesAlike: slopesAlike(observations, groups, rss),
    groupsDiffer: groupsDiffer(observations, groups, within.sxx),
    pairs: pairs(groups).map(([a, b]) => {
      const contrast = Array.from({ length: groups + 1 }, (_, j) => (j === a ? 1 : j === b ? -1 : 0))
      return { a, b, ...estimateOf(contrast), direction: directionThrough(r, contrast) }
    }),
  }
}

interface Sums {
  readonly sxx: number
  readonly sxy: number
  readonly syy: number
}

const sumsOf = (own: readonly Covaried[]): Sums => {
  const [mx, my] = [mean(own.map(o => o.x)), mean(own.map(o => o.value))]
  const sum = (f: (o: Covaried) => number): number => own.reduce((all, o) => all + f(o), 0)
  return {
    sxx: sum(o => (o.x - mx) ** 2),
    sxy: sum(o => (o.x - mx) * (o.value - my)),
    syy: sum(o => (o.value - my) ** 2),
  }
}

const ofGroup = (observations: readonly Covaried[], group: number) =>
  observations.filter(o => o.group === group)

const withinGroups = (observations: readonly Covaried[], groups: number): Sums =>
  Array.from({ length: groups }, (_, g) => sumsOf(ofGroup(observations, g))).reduce((a, b) => ({
    sxx: a.sxx + b.sxx,
    sxy: a.sxy + b.sxy,
    syy: a.syy + b.syy,
  }))

/** A slope for each group against the one slope for all. */
function slopesAlike(observations: readonly Covaried[], groups: number, rss: number): FTest | null {
  const own = Array.from({ length: groups }, (_, g) => sumsOf(ofGroup(observations, g)))
  const sloping = own.filter(s => s.sxx > 0)
  const [df1, df2] = [sloping.length - 1, observations.length - groups - sloping.length]
  const left = own.reduce((sum, s) => sum + s.syy - (s.sxx > 0 ? s.sxy ** 2 / s.sxx : 0), 0)
  if (df1 < 1 || df2 < 1 || !(left > 0)) return null
  const f = Math.max(0, rss - left) / df1 / (left / df2)
  return { f, df1, df2, p: fUpperTail(f, df1, df2) }
}

function groupsDiffer(observations: readonly Covaried[], groups: number, sxx: number): FTest | null {
  const [df1, df2] = [groups - 1, observations.length - groups]
  const between = sumsOf(observations).sxx - sxx
  const f = between / df1 / (sxx / df2)
  return { f, df1, df2, p: fUpperTail(f, df1, df2) }
}
