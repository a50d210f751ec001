import { median, ROUNDING, variance } from '../group/moments.ts'
import { oneWayAnova } from './anova.ts'

export interface Levene {
  readonly w: number
  readonly df1: number
  readonly df2: number
  readonly p: number
}

/**
 * Do the groups scatter alike? Analysis of variance of the distances from each group's median: Brown and Forsythe,
 * JASA 69 (1974) 364, the sturdy form of Levene's test. `null` where it has no value (see {@link oneWayAnova});
 * where a group has fewer than three values, as both of two lie equally far from their median; and where in every group
 * all distances are alike but for rounding (10.1, 10.1, 10.3, 10.3), which would make F as large as one likes.
 */
export function levene(groups: readonly Float64Array[]): Levene | null {
  if (groups.some(g => g.length < 3)) return null
  const distances = groups.map(g => {
    const middle = median(g)
    return g.map(v => Math.abs(v - middle))
  })
  if (groups.every((g, i) => isRounding(distances[i]!, g))) return null
  const anova = oneWayAnova(distances)
  return anova && { w: anova.f, df1: anova.df1, df2: anova.df2, p: anova.p }
}

/** Whether the distances scatter by no more than the rounding of the values that they were taken between. */
const isRounding = (distances: Float64Array, values: Float64Array): boolean =>
  Math.sqrt(variance(distances)) <= ROUNDING * Math.max(...values.map(Math.abs))
