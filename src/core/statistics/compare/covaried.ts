import type { Comparison, ComparisonWarning } from '../document.ts'
import type { BlockedLayout } from './blocks.ts'
import { type CovariateLayout, covariateLayout } from './covariate.ts'
import { layoutOf } from './layoutOf.ts'
import { atLeastOf, measuredOf, type Specimen } from './specimen.ts'
import { pText } from './words.ts'

/** p under which slopes are not alike, or groups not alike in the covariate. */
const NOT_ALIKE = 0.05

export interface CovariedGroups {
  /** The layout that decides; `null` where it may not. */
  readonly layout: CovariateLayout | null
  readonly document: NonNullable<Comparison['covariate']>
}

/**
 * The groups at one covariate. It decides unless the value changes with it in another way in each group, a group has a value that is only
 * a bound, or a specimen's covariate is not known: then nothing is taken out. `null` where no layout can be had.
 */
export function covariedOf(
  groups: readonly { readonly name: string; readonly specimens: readonly Specimen[] }[],
  name: string,
): CovariedGroups | null {
  const measured = groups.map(g => measuredOf(g.specimens))
  const known = measured.flat().every(s => s.covariate !== undefined && s.covariate !== null)
  if (!known || groups.some(g => atLeastOf(g.specimens).length > 0)) return null
  const found = covariateLayout(
    measured.flatMap((own, group) => own.map(s => ({ group, x: s.covariate!, value: s.value! }))),
    groups.length,
  )
  if (found === null) return null
  const { slope, ci95, t, df, p, at, adjusted, residualSd, sdWithout, slopesAlike, groupsDiffer } = found
  const used = !(slopesAlike !== null && slopesAlike.p < NOT_ALIKE)
  return {
    layout: used ? found : null,
    document: {
      name,
      used,
      slope,
      ci95,
      t,
      df,
      p,
      at,
      adjusted: groups.map((g, i) => ({ group: g.name, mean: adjusted[i]! })),
      residualSd,
      sdWithout,
      slopesAlike,
      groupsDiffer,
    },
  }
}

/**
 * The same within blocks: the two-way layout with one slope beside it. `null` where no such layout can be had, or the blocks do not tie the
 * groups; the blocks are then judged without it.
 */
export function covariedInBlocks(
  groups: readonly { readonly name: string; readonly specimens: readonly Specimen[] }[],
  name: string,
): {
  readonly layout: BlockedLayout | null
  readonly document: NonNullable<Comparison['covariate']>
} | null {
  const used = groups.map(g => measuredOf(g.specimens).filter(s => s.block !== null))
  const known = used.flat().every(s => s.covariate !== undefined && s.covariate !== null)
  if (!known || groups.some(g => atLeastOf(g.specimens).length > 0)) return null
  const layout = layoutOf(groups, { covariate: true })
  if (layout === null || layout === 'untied' || layout.covariate === null) return null
  const { adjusted, ...found } = layout.covariate
  const isUsed = !(found.slopesAlike !== null && found.slopesAlike.p < NOT_ALIKE)
  return {
    layout: isUsed ? layout : null,
    document: {
      name,
      used: isUsed,
      ...found,
      adjusted: groups.map((g, i) => ({ group: g.name, mean: adjusted[i]! })),
      residualSd: layout.residualSd,
    },
  }
}

/** What is said of a covariate that was asked for. */
export function covariateWarnings(
  name: string,
  found: Comparison['covariate'],
  blocksBy: string | null,
): ComparisonWarning[] {
  const one = (code: string, text: string): ComparisonWarning[] => [{ code, text }]
  const within = blocksBy === null ? '' : ` beside the ${blocksBy}`
  if (!found)
    return one(
      'covariate-not-used',
      `${name} is not taken out${within}: it is not known of every specimen, is the same in all, or too few specimens are left to judge by.`,
    )
  if (!found.used)
    return one(
      'covariate-not-used',
      `The values do not change with ${name} in the same way in all variants (${pText(found.slopesAlike!.p)}): no one difference holds for every ${name}, so it is not taken out.`,
    )
  return [
    {
      code: 'covariate',
      text: `Compared as if all had the same ${name}${blocksBy === null ? '' : `, within a ${blocksBy}`}. Taking it out changes the scatter within a variant to ${Math.round((100 * found.residualSd) / found.sdWithout)} % of what it was.`,
    },
    ...(found.groupsDiffer !== null && found.groupsDiffer.p < NOT_ALIKE
      ? one(
          'covariate-differs',
          `The variants themselves differ in ${name} (${pText(found.groupsDiffer.p)}): if the variant is what changes it, a part of its effect is taken out with it.`,
        )
      : []),
  ]
}
