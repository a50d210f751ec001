import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import { parseRig, type Rig as RigDocument } from '../../core/calibration/rig.ts'
import type { Problem } from '../../core/problem.ts'
import type { Rig } from '../../server/apiTypes.ts'
import { useBench } from '../app/context.tsx'
import { KEYS, useChange, useRigs } from '../data/queries.ts'

/** The rig that stands on the bench: one for all studies, until another is chosen. */
export interface BenchRig {
  readonly rigs: readonly Rig[]
  /** As it is kept; `null` where there is none yet. */
  readonly kept: Rig | null
  /** Its document with the defaults of the schema; `null` where there is none or it does not keep to the schema. */
  readonly rig: RigDocument | null
  readonly problems: readonly Problem[]
  readonly isLoading: boolean
  choose(rigId: string): void
}

const NAME = 'bench'

export function useBenchRig(): BenchRig {
  const { backend } = useBench()
  const rigs = useRigs()
  const settings = useQuery({ queryKey: KEYS.settings, queryFn: () => backend.settings.all() })
  const { mutate } = useChange<string, void>((to, rigId) => to.settings.set(NAME, { rigId }))
  const kept = chosenRig(rigs.data ?? [], settings.data?.[NAME])
  const parsed = useMemo(() => kept && parseRig(JSON.stringify(kept.document), kept.name), [kept])
  return {
    rigs: rigs.data ?? [],
    kept,
    rig: parsed?.ok ? parsed.value : null,
    problems: parsed && !parsed.ok ? parsed.problems : [],
    isLoading: rigs.isPending || settings.isPending,
    choose: mutate,
  }
}

/** The one that was chosen, else the one that was changed last. */
export function chosenRig(rigs: readonly Rig[], setting: unknown): Rig | null {
  const { rigId } = (typeof setting === 'object' && setting !== null ? setting : {}) as { rigId?: unknown }
  const newestFirst = [...rigs].sort((a, b) => (a.updatedAt < b.updatedAt ? 1 : -1))
  return rigs.find(({ id }) => id === rigId) ?? newestFirst[0] ?? null
}
