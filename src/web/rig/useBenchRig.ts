import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import { DEMO } from '../../capture/pretend/demoFacts.ts'
import { parseRig, type Rig as RigDocument } from '../../core/calibration/rig.ts'
import type { Problem } from '../../core/problem.ts'
import type { Rig, Study } from '../../server/apiTypes.ts'
import { useBench } from '../app/context.tsx'
import { KEYS, useChange, useRigs } from '../data/queries.ts'

/** What was chosen for the bench: one for all studies. */
export interface BenchChoice {
  readonly rigId: string | null
  /** Name of the mass that the rig is checked with. */
  readonly checkMass: string | null
}

/** The rig that stands on the bench, until another is chosen. */
export interface BenchRig {
  readonly rigs: readonly Rig[]
  /** As it is kept; `null` where there is none yet. */
  readonly kept: Rig | null
  /** Its document with the defaults of the schema; `null` where there is none or it does not keep to the schema. */
  readonly rig: RigDocument | null
  readonly problems: readonly Problem[]
  readonly isLoading: boolean
  readonly choice: BenchChoice
  choose(change: Partial<BenchChoice>): void
}

const NAME = 'bench'

/** `study`: the one that is open. */
export function useBenchRig(study: Pick<Study, 'name'>): BenchRig {
  const { backend } = useBench()
  const rigs = useRigs()
  const settings = useQuery({ queryKey: KEYS.settings, queryFn: () => backend.settings.all() })
  const { mutate } = useChange<BenchChoice, void>((to, choice) => to.settings.set(NAME, choice))
  const choice = benchChoiceFrom(settings.data?.[NAME])
  const kept = chosenRig(rigs.data ?? [], choice.rigId, study.name === DEMO.title)
  const parsed = useMemo(() => kept && parseRig(JSON.stringify(kept.document), kept.name), [kept])
  return {
    rigs: rigs.data ?? [],
    kept,
    rig: parsed?.ok ? parsed.value : null,
    problems: parsed && !parsed.ok ? parsed.problems : [],
    isLoading: rigs.isPending || settings.isPending,
    choice,
    choose: change => mutate({ ...choice, ...change }),
  }
}

export function benchChoiceFrom(kept: unknown): BenchChoice {
  const { rigId, checkMass } = (typeof kept === 'object' && kept !== null ? kept : {}) as Record<
    string,
    unknown
  >
  return {
    rigId: typeof rigId === 'string' ? rigId : null,
    checkMass: typeof checkMass === 'string' ? checkMass : null,
  }
}

/** The one that was chosen, else the one that was changed last; the invented rig of the demo stands only in the demo. */
export function chosenRig(rigs: readonly Rig[], rigId: string | null, isDemo = false): Rig | null {
  const newestFirst = [...rigs].sort((a, b) => (a.updatedAt < b.updatedAt ? 1 : -1))
  const ofDemo = newestFirst.find(({ name }) => name === DEMO.rigName)
  const own = newestFirst.find(({ name }) => name !== DEMO.rigName)
  return rigs.find(({ id }) => id === rigId) ?? (isDemo ? (ofDemo ?? own) : own) ?? null
}
