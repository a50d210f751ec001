import type { Comparison } from '../document.ts'
import { anyScatters } from '../group/moments.ts'
import { oneWayAnova } from './anova.ts'
import { kruskalWallis } from './kruskalWallis.ts'
import { levene } from './levene.ts'
import { atLeastOf, measuredOf, type Specimen, valuesOf } from './specimen.ts'
import { trendWithOrder } from './trend.ts'
import { welchAnova } from './welchAnova.ts'

export interface Group {
  readonly name: string
  readonly specimens: readonly Specimen[]
}

/** Whether any value is only a bound. */
const hasBounds = (groups: readonly Group[]): boolean => groups.some(g => atLeastOf(g.specimens).length > 0)

/** All groups together: are their means alike, and their scatters? */
export function overallOf(groups: readonly Group[]): Comparison['overall'] {
  if (groups.length < 2) return null
  const values = groups.map(g => valuesOf(measuredOf(g.specimens)))
  const ranked = groups.map(g => [...measuredOf(g.specimens), ...atLeastOf(g.specimens)])
  const bounds = ranked.map(g => g.map(s => s.status === 'at-least'))
  // Means without the strongest specimens would be too low: only ranks can use a bound.
  const means = !hasBounds(groups)
  const anova = means && anyScatters(values) ? oneWayAnova(values) : null
  return {
    anova: anova && { f: anova.f, df1: anova.df1, df2: anova.df2, p: anova.p },
    welch: means ? welchAnova(values) : null,
    kruskalWallis: kruskalWallis(ranked.map(valuesOf), bounds),
    levene: means ? levene(values) : null,
  }
}

/** Do the values change with the order of pulling? */
export function trendOf(groups: readonly Group[]): Comparison['trend'] {
  const ordered = groups.map(g => measuredOf(g.specimens).filter(s => s.order !== null))
  return trendWithOrder(
    ordered.map(g => ({ values: valuesOf(g), order: Float64Array.from(g, s => s.order!) })),
  )
}
