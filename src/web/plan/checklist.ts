import type { Specimen, Variant } from '../../server/apiTypes.ts'
import type { OpenStudy } from '../data/backend.ts'
import { pulledIds } from '../read/order.ts'

/** One place in the order of pulling. */
export interface Slot {
  /** As the plan names it: `paste 3`. */
  readonly label: string
  readonly variantId: string | null
  /** The specimen that stands for it; `null` where none is made yet. */
  readonly specimen: Specimen | null
  readonly state: 'unmade' | 'planned' | 'pulled' | 'left-out'
}

export interface Checklist {
  /** Block by block: each holds one of every variant. */
  readonly blocks: readonly (readonly Slot[])[]
  readonly missing: readonly Slot[]
  /** Specimens that were planned, were never pulled, and are in no place any more. */
  readonly surplus: readonly Specimen[]
  readonly pulled: number
  readonly all: number
}

/**
 * The order of a plan with the specimens of its study. A specimen of the very name takes its place; the places left of
 * a variant go to its other specimens in the order in which they were made, those with recordings first.
 */
export function checklistOf(
  plan: { readonly blocks: readonly (readonly string[])[] },
  { variants, specimens, recordings }: Pick<OpenStudy, 'variants' | 'specimens' | 'recordings'>,
): Checklist {
  const recorded = pulledIds({ recordings, specimens })
  const labels = plan.blocks.flat()
  const wanted = new Set(labels)
  const byName = new Map(specimens.map(specimen => [specimen.name, specimen]))
  const others = new Map(
    variants.map(({ id }) => {
      const loose = specimens.filter(s => s.variantId === id && !wanted.has(s.name))
      return [id, [...loose.filter(s => recorded.has(s.id)), ...loose.filter(s => !recorded.has(s.id))]]
    }),
  )
  const slotOf = (label: string): Slot => {
    const variantId = variantOf(label, variants)?.id ?? null
    const specimen =
      byName.get(label) ?? (variantId === null ? undefined : others.get(variantId)?.shift()) ?? null
    return { label, variantId, specimen, state: stateOf(specimen, recorded) }
  }
  // Places are given out in the order of pulling, so that the first pulled are the first ticked.
  const blocks = plan.blocks.map(block => block.map(slotOf))
  const slots = blocks.flat()
  const placed = new Set(slots.flatMap(({ specimen }) => (specimen ? [specimen.id] : [])))
  return {
    blocks,
    missing: slots.filter(({ specimen }) => specimen === null),
    surplus: specimens.filter(s => s.status === 'planned' && !recorded.has(s.id) && !placed.has(s.id)),
    pulled: slots.filter(({ state }) => state === 'pulled').length,
    all: slots.length,
  }
}

/** Labels are the variant and a running number. */
const variantOf = (label: string, variants: readonly Variant[]): Variant | undefined =>
  variants.find(({ name }) => name === label.slice(0, label.lastIndexOf(' ')))

function stateOf(specimen: Specimen | null, recorded: ReadonlySet<string>): Slot['state'] {
  if (!specimen) return 'unmade'
  if (specimen.status === 'left-out') return 'left-out'
  return recorded.has(specimen.id) ? 'pulled' : 'planned'
}
