import type { Looks } from './looks.ts'

/**
 * What a study remembers of its looks, kept with its plan: `lookedAt` beside the plan document (specimens of each, on average, at
 * every look that was taken), and from the document itself how many were planned, `looks.stages`, and `perGroup`.
 */
interface Remembered {
  readonly planned: number | null
  /** `null`: nobody planned more than one. */
  readonly stages: number | null
  readonly taken: readonly number[]
}

/** More planned looks than these cost more than they bring. */
export const MOST_STAGES = 4

/** Read with care: the plan is kept as JSON that an older program, or another hand, may have written. */
export function rememberedLooks(plan: unknown): Remembered {
  const { perGroup, looks, lookedAt } = fieldsOf(plan)
  const { stages } = fieldsOf(looks)
  const numbers = Array.isArray(lookedAt)
    ? lookedAt.filter((n): n is number => typeof n === 'number' && n > 0)
    : []
  return {
    planned: typeof perGroup === 'number' && perGroup > 0 ? perGroup : null,
    stages: typeof stages === 'number' && Number.isInteger(stages) && stages >= 2 ? stages : null,
    taken: [...new Set(numbers)].sort((a, b) => a - b),
  }
}

/**
 * The looks by which a study is judged; `null` for the first look at one for which no more were planned. Of such a study a later
 * look has nothing left to spend, which a warning then says with what it makes of the whole.
 */
export function looksOf(plan: unknown): Looks | null {
  const { planned, stages, taken } = rememberedLooks(plan)
  if (stages !== null) return { earlier: taken, planned, stages }
  return taken.length === 0 ? null : { earlier: taken, planned: null, stages: 1 }
}

/** The plan with this look remembered; `null` where it is no new one. `perGroup`: specimens of each, on average. */
export function withLook(plan: unknown, perGroup: number): Record<string, unknown> | null {
  const { taken } = rememberedLooks(plan)
  if (!(perGroup >= 2) || perGroup <= (taken.at(-1) ?? 0)) return null
  return { ...fieldsOf(plan), lookedAt: [...taken, perGroup] }
}

/** Another plan of the same study, with what the study remembers. */
export function withMemoryOf(before: unknown, plan: object): Record<string, unknown> {
  const { taken } = rememberedLooks(before)
  return taken.length === 0 ? { ...plan } : { ...plan, lookedAt: taken }
}

const fieldsOf = (value: unknown): Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null ? (value as Readonly<Record<string, unknown>>) : {}
