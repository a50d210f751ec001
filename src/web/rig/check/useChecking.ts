import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { JudgedCheck } from '../../../core/calibration/judgeCheck.ts'
import type { Mass } from '../../../core/calibration/references.ts'
import type { Rig as RigDocument } from '../../../core/calibration/rig.ts'
import type { Problem } from '../../../core/problem.ts'
import type { DailyCheck, Rig } from '../../../server/apiTypes.ts'
import { useBench } from '../../app/context.tsx'
import { KEYS, useChange } from '../../data/queries.ts'
import { type CheckLevel, checkNow, checksOf, typedUnitOf } from './checkNow.ts'

/** A level that was taken, and whether the line had turned it into newton. */
export interface TakenLevel extends CheckLevel {
  readonly isForce: boolean
  readonly greatestN: number | null
}

/** The daily check: first the empty hook, then the mass. It is judged and kept at once. */
export function useChecking(kept: Rig | null, rig: RigDocument | null, mass: Mass | null) {
  const { backend } = useBench()
  const rigId = kept?.id
  const { data, isPending } = useQuery({
    queryKey: [...KEYS.checks, rigId],
    queryFn: () => backend.checks.list(rigId),
    enabled: rigId !== undefined,
  })
  const checks = checksOf(data ?? [])
  const [isOpen, setIsOpen] = useState(false)
  const [empty, setEmpty] = useState<TakenLevel | null>(null)
  const [judged, setJudged] = useState<JudgedCheck | null>(null)
  const [problems, setProblems] = useState<readonly Problem[]>([])
  const saving = useChange((to, fields: Omit<DailyCheck, 'id'>) => to.checks.keep(fields))

  const begin = () => {
    setIsOpen(true)
    setEmpty(null)
    setJudged(null)
    setProblems([])
  }
  const take = (level: TakenLevel): void => {
    if (empty === null || empty.isForce !== level.isForce) {
      setEmpty(level)
      return
    }
    if (!rig || !mass) return
    const at = new Date().toISOString()
    const outcome = checkNow({
      rig,
      earlier: checks,
      mass,
      empty,
      loaded: level,
      readingUnit: level.isForce ? null : typedUnitOf(rig),
      greatestN: level.greatestN,
      at,
    })
    setProblems(outcome.ok ? [] : outcome.problems)
    if (!outcome.ok) return
    setJudged(outcome.value)
    saving.mutate(
      { rigId: rigId ?? null, calibrationId: null, madeAt: at, document: outcome.value.check },
      { onSuccess: () => setIsOpen(false) },
    )
  }
  return {
    checks,
    isLoading: isPending && rigId !== undefined,
    /** `empty`: the empty hook is to be read; `mass`: the mass; `null`: none is being made. */
    step: !isOpen ? null : empty === null ? ('empty' as const) : ('mass' as const),
    emptyLevel: empty?.value ?? null,
    judged,
    problems,
    error: saving.error,
    begin,
    take,
    stop: () => setIsOpen(false),
  }
}
export type Checking = ReturnType<typeof useChecking>
