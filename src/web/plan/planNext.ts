/** What Plan asks for now. */
export type PlanNext = 'question' | 'assign' | 'variants' | 'keep' | 'keep-again' | 'specimens' | 'rig'

export interface PlanState {
  readonly question: string
  readonly variants: number
  /** Specimens that are of no variant, and so in no figure. */
  readonly loose: number
  /** Whether a plan was kept at all, and whether it still says what the dials and variants do. */
  readonly kept: 'no' | 'stale' | 'yes'
  /** Specimens to make or to take away, so that there is one for each place of the order. */
  readonly toSettle: number
}

/** The first thing that is missing, in the order of the work. */
export function planNext({ question, variants, loose, kept, toSettle }: PlanState): PlanNext {
  if (question.trim() === '') return 'question'
  if (loose > 0) return 'assign'
  if (variants < 2) return 'variants'
  if (kept === 'no') return 'keep'
  if (kept === 'stale') return 'keep-again'
  return toSettle > 0 ? 'specimens' : 'rig'
}
