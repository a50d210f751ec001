import { useEffect, useRef } from 'react'
import { saysPractice } from '../../core/reading/practice.ts'
import { withLook } from '../../core/statistics/compare/rememberedLooks.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import type { Study } from '../../server/apiTypes.ts'
import { useChange } from '../data/queries.ts'

/**
 * Writes into the study how many of each there were when its comparison was looked at, so that a later look, after more
 * pulls, is judged as one. Nothing where `comparison` is of several studies, or a variant has fewer than two.
 */
export function useRememberedLook(study: Study, comparison: Comparison | undefined): void {
  const { mutate, isPending } = useChange<Record<string, unknown>, Study>((backend, plan) =>
    backend.studies.change(study.id, { plan, basedOn: study.updatedAt }),
  )
  const tried = useRef('')
  const perGroup = comparison && fairlyLookedAt(comparison)
  const next = perGroup && !study.archived ? withLook(study.plan, perGroup) : null
  const state = `${study.updatedAt} ${perGroup}`
  useEffect(() => {
    // Once for each state of the study: changed elsewhere meanwhile, it comes anew and is tried again.
    if (next === null || isPending || tried.current === state) return
    tried.current = state
    mutate(next)
  }, [next, isPending, state, mutate])
}

/** Specimens of each on average; `null` where nothing can have been decided, or all of it is practice. */
function fairlyLookedAt(comparison: Comparison): number | null {
  const { groups, pairs } = comparison
  const isDecided = pairs.some(({ decidedBy }) => decidedBy !== null)
  if (groups.length < 2 || saysPractice(comparison) || !isDecided) return null
  return groups.reduce((sum, { n }) => sum + n, 0) / groups.length
}
