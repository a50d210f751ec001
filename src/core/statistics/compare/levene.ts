import { median } from '../group/moments.ts'
import { oneWayAnova } from './anova.ts'

export interface Levene {
  readonly w: number
  readonly df1: number
  readonly df2: number
  readonly p: number
}

/**
 * Do the groups scatter alike? Analysis of variance of the distances from each group's median: Brown and Forsythe,
 * JASA 69 (1974) 364, the sturdy form of Levene's test. `null` where it has no value (see {@link oneWayAnova}), and
 * where a group has fewer than three values: both of two lie equally far from their median, so that their distances
 * scatter by nothing but rounding.
 */
export function levene(groups: readonly Float64Array[]): Levene | null {
  if (groups.some(g => g.length < 3)) return null
  const distances = groups.map(g => {
    const middle = median(g)
    return g.map(v => Math.abs(v - middle))
  })
  const anova = oneWayAnova(distances)
  return anova && { w: anova.f, df1: anova.df1, df2: anova.df2, p: anova.p }
}
