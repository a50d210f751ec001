import { counted } from '../counted.ts'
import type { NextStep } from './document.ts'

/** A study as far as its next step hangs on it. */
export interface StudyFacts {
  readonly question: string
  /** The plan as it is kept, whatever it holds. */
  readonly plan: unknown
  readonly variants: readonly { readonly id: string; readonly name: string }[]
  readonly specimens: readonly {
    readonly id: string
    readonly variantId: string | null
    readonly status: 'planned' | 'pulled' | 'left-out'
  }[]
  /** Specimens, by id, that have a result: a recording that counts, or a peak that was typed. */
  readonly pulled: ReadonlySet<string>
}

/** What of a study's plan is still to be done. */
export interface PlanLeft {
  /** `stale`: other things are compared now than when it was kept. */
  readonly plan: 'none' | 'stale' | 'kept'
  /** Places of the order for which there is no specimen yet. */
  readonly unwritten: number
  /** Specimens that are planned and not pulled. */
  readonly toPull: number
}

/** Steps before there is anything to compare, beside those of an answer. */
export interface StudyStep extends Omit<NextStep, 'kind'> {
  readonly kind: NextStep['kind'] | 'question' | 'variants' | 'rig' | 'compare'
}

const step = (kind: StudyStep['kind'], text: string): StudyStep => ({ kind, text, perGroup: null })
const nextStep = (kind: NextStep['kind'], text: string): NextStep => ({ kind, text, perGroup: null })

/** What of the plan is left: labels of its order are the variant and a running number. */
export function planLeft({ plan, variants, specimens, pulled }: Omit<StudyFacts, 'question'>): PlanLeft {
  const planned = plannedPerVariant(plan)
  const toPull = specimens.filter(({ id, status }) => status === 'planned' && !pulled.has(id)).length
  if (planned.size === 0) return { plan: 'none', unwritten: 0, toPull }
  if (planned.size !== variants.length || variants.some(({ name }) => !planned.has(name)))
    return { plan: 'stale', unwritten: 0, toPull }
  // Each specimen of a variant takes one place of it, whatever the specimen is called.
  const unwritten = variants.reduce((sum, { id, name }) => {
    const there = specimens.filter(({ variantId }) => variantId === id).length
    return sum + Math.max(0, (planned.get(name) ?? 0) - there)
  }, 0)
  return { plan: 'kept', unwritten, toPull }
}

/** Steps that make more pulls worth nothing until they are done. */
const BEFORE_PULLING: readonly NextStep['kind'][] = [
  'assign',
  'name-rig',
  'add-variant',
  'tie-blocks',
  'reach-higher',
]

/** The next step of a comparison within its study: what was planned is pulled before the answer says what comes then. */
export function nextWithPlan(next: NextStep, { plan, unwritten, toPull }: PlanLeft): NextStep {
  if (BEFORE_PULLING.includes(next.kind)) return next
  if (plan === 'stale')
    return nextStep('plan', 'Plan again: other things are compared now than in the plan that is kept.')
  if (toPull > 0) return nextStep('pull', pullText(toPull))
  return unwritten > 0 ? nextStep('write-in', writeText(unwritten)) : next
}

/**
 * The one next step of a study, for every place that names one. `answered`: that of its comparison, which has what is left
 * of the plan in it; `null` while there is none.
 */
export function studyNext(facts: StudyFacts, answered: NextStep | null): StudyStep {
  const { variants, specimens } = facts
  const isPulled = facts.pulled.size > 0
  if (isPulled && answered !== null) return answered
  if (!isPulled && facts.question.trim() === '')
    return step('question', 'Write down the question that the pulls are to answer.')
  const loose = specimens.filter(one => one.variantId === null && one.status !== 'left-out').length
  if (loose > 0 && variants.length > 0)
    return step('assign', 'Assign the specimens that have no variant: they are in no figure.')
  if (variants.length < 2) return step('variants', 'Name at least two things to compare.')
  if (isPulled) return step('compare', 'Compare what was pulled.')
  const { plan, unwritten, toPull } = planLeft(facts)
  if (plan === 'none' && toPull === 0) return step('plan', 'Choose how many of each to pull.')
  if (plan === 'stale') return step('plan', 'The variants have changed since the plan was kept: plan again.')
  if (unwritten > 0) return step('write-in', writeText(unwritten))
  return step('rig', 'The plan stands: see that the rig is right.')
}

const pullText = (n: number): string =>
  n === 1 ? 'Pull the one specimen that is left.' : `Pull the ${n} specimens that are left.`

const writeText = (n: number): string => `Write the ${counted(n, 'specimen')} of the plan into the notebook.`

/** How many places each variant has in the order of a plan; none where it is no plan of ours. */
function plannedPerVariant(plan: unknown): ReadonlyMap<string, number> {
  const order =
    typeof plan === 'object' && plan !== null ? (plan as Readonly<Record<string, unknown>>).order : null
  const places = new Map<string, number>()
  for (const label of Array.isArray(order) ? order : []) {
    const name = typeof label === 'string' ? /^(.+) \d+$/.exec(label)?.[1] : undefined
    if (name === undefined) return new Map()
    places.set(name, (places.get(name) ?? 0) + 1)
  }
  return places
}
