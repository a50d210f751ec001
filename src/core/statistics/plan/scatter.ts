import { oneWayAnova } from '../compare/anova.ts'
import { measuredOf, type Specimen, valuesOf } from '../compare/specimen.ts'
import { mean, standardDeviation } from '../group/moments.ts'

/** How much the values of earlier records scatter within their groups. */
export interface RecordedScatter {
  readonly mean: number
  /** Pooled over the groups: that of a one-way layout; of one group its own. */
  readonly sd: number
  readonly values: number
  /** Names of the groups, in their order. */
  readonly groups: readonly string[]
}

/** The scatter of what was measured; `null` where no group shows one. */
export function recordedScatter(
  specimens: readonly Pick<Specimen, 'group' | 'status' | 'value' | 'dropped'>[],
): RecordedScatter | null {
  const measured = measuredOf(specimens)
  const names = [...new Set(measured.map(s => s.group))]
  const groups = names.map(name => valuesOf(measured.filter(s => s.group === name)))
  const sd =
    groups.length === 1 && groups[0]!.length > 1
      ? standardDeviation(groups[0]!)
      : oneWayAnova(groups)?.residualSd
  if (sd === undefined || !(sd > 0)) return null
  return { mean: mean(valuesOf(measured)), sd, values: measured.length, groups: names }
}

/** `15 values in 3 groups`. */
export const recordedScatterText = ({ values, groups }: RecordedScatter): string =>
  `${values} values in ${groups.length} group${groups.length === 1 ? '' : 's'}`
