import type { Specimen } from '../../server/apiTypes.ts'
import type { OpenStudy } from '../data/backend.ts'
import { inReadingOrder, pulledIds } from '../read/order.ts'

/** The specimens in the order in which the plan pulls them; those that it does not name come after, by variant. */
export function inPullingOrder(
  open: Pick<OpenStudy, 'study' | 'variants' | 'specimens'>,
): readonly Specimen[] {
  const order = plannedOrder(open.study.plan)
  const placeOf = new Map(order.map((name, i) => [name, i] as const))
  return inReadingOrder(open)
    .map((specimen, i) => ({ specimen, at: placeOf.get(specimen.name) ?? order.length + i }))
    .sort((a, b) => a.at - b.at)
    .map(({ specimen }) => specimen)
}

/** Those still to be pulled: without a recording that counts, and not left out. */
export function toPull(open: OpenStudy): readonly Specimen[] {
  const recorded = pulledIds(open)
  return inPullingOrder(open).filter(({ id, status }) => status === 'planned' && !recorded.has(id))
}

/** The names in the plan's order; none where there is no plan, or another document. */
function plannedOrder(plan: unknown): readonly string[] {
  const { order } = fieldsOf(plan)
  return Array.isArray(order) ? order.filter((name): name is string => typeof name === 'string') : []
}

const fieldsOf = (value: unknown): Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}

/** The peak that the plan expects, in its own unit; `null` where it says none. */
export function plannedMean(plan: unknown): { readonly value: number; readonly unit: string } | null {
  const { scatter, unit } = fieldsOf(plan)
  const { mean } = fieldsOf(scatter)
  return typeof mean === 'number' && mean > 0 && typeof unit === 'string' ? { value: mean, unit } : null
}

/** A name for one more specimen of a variant: its own with the next number that is free. */
export function nextName(
  variant: string | null,
  specimens: readonly Pick<Specimen, 'name'>[],
  usual: string,
): string {
  const taken = new Set(specimens.map(({ name }) => name))
  const stem = variant ?? usual
  let n = 1
  while (taken.has(`${stem}-${n}`) || taken.has(`${stem} ${n}`)) n++
  return `${stem}-${n}`
}
