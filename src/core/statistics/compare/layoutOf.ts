import type { Comparison } from '../document.ts'
import { type BlockedLayout, blockedLayout } from './blocks.ts'
import { atLeastOf, measuredOf, type Specimen } from './specimen.ts'

/**
 * Groups against blocks, of the specimens whose block is known. A group in which some only reached a bound has no
 * fair mean and stays out; the pairs that come back go by the places of all groups. `covariate`: take it out as well; it must be known of all.
 */
export function layoutOf(
  groups: readonly { readonly name: string; readonly specimens: readonly Specimen[] }[],
  { covariate = false }: { covariate?: boolean } = {},
): BlockedLayout | 'untied' | null {
  const used = groups.flatMap((g, place) => (atLeastOf(g.specimens).length > 0 ? [] : [{ g, place }]))
  const known = used.map(({ g }) => measuredOf(g.specimens).filter(s => s.block !== null))
  if (known.some(g => g.length === 0)) return null
  const blocks = [...new Set(known.flat().map(s => s.block))]
  const layout = blockedLayout(
    known.flatMap((g, group) =>
      g.map(s => ({
        group,
        block: blocks.indexOf(s.block),
        value: s.value!,
        ...(covariate ? { x: s.covariate! } : {}),
      })),
    ),
  )
  if (layout === null || layout === 'untied') return layout
  return {
    ...layout,
    pairs: layout.pairs.map(p => ({ ...p, a: used[p.a]!.place, b: used[p.b]!.place })),
  }
}

/** What the document says of the blocks, with the means of the control in each of them. */
export function blocksOf(
  layout: BlockedLayout | 'untied' | null,
  by: string,
  control: string | null,
  specimens: readonly Specimen[],
): Comparison['blocks'] {
  const full = layout === 'untied' ? null : layout
  const own = measuredOf(specimens).filter(s => s.group === control && s.block !== null)
  const means = [...new Set(own.map(s => s.block!))].map(block => {
    const values = own.filter(s => s.block === block).map(s => s.value!)
    return { block, n: values.length, mean: values.reduce((a, b) => a + b, 0) / values.length }
  })
  return {
    by,
    tied: layout !== 'untied',
    groups: full?.groups ?? null,
    blocks: full?.blocks ?? null,
    interaction: full?.interaction ?? null,
    control: control === null ? null : { group: control, means },
  }
}
