import { useQueries } from '@tanstack/react-query'
import { useMemo } from 'react'
import { LEAST_LIKE, type RelativeScatter } from '../../core/statistics/compare/borrowed.ts'
import { scattersOf } from '../../core/statistics/compare/compareStudy.ts'
import type { Quantity } from '../../core/statistics/compare/quantity.ts'
import { rigOfControl } from '../../core/statistics/timeLine/ofStudies.ts'
import { useBench } from '../app/context.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { KEYS } from '../data/queries.ts'
import { comparedStudies } from './comparedStudies.ts'

const NONE: ReadonlySet<string> = new Set()

export interface Like {
  /** Of all chosen studies together; `null` where they are too few to borrow from. */
  readonly scatters: readonly RelativeScatter[] | null
  /** How many variants with a scatter were found. */
  readonly count: number
  /** Names of those that were pulled on another rig than the open study. */
  readonly otherRig: readonly string[]
}

/** What the chosen studies have to lend. */
export function useLike(open: OpenStudy, ids: readonly string[], quantity: Quantity): Like {
  const { backend } = useBench()
  const found = useQueries({
    queries: ids.map(id => ({ queryKey: KEYS.study(id), queryFn: () => backend.studies.open(id) })),
  })
  const opens = found.flatMap(({ data }) => (data ? [data] : []))
  const state = opens.map(({ study, readings }) => [study.id, readings.map(({ id }) => id)])
  // biome-ignore lint/correctness/useExhaustiveDependencies: readings never change, their ids stand for them
  return useMemo(() => {
    const all = opens.flatMap(one => scattersOf(comparedStudies([one], NONE, ''), quantity))
    const own = rigOf(open)
    return {
      scatters: all.length < LEAST_LIKE ? null : all,
      count: all.length,
      otherRig: opens.filter(one => own !== null && rigOf(one) !== own).map(({ study }) => study.name),
    }
  }, [JSON.stringify(state), quantity, open])
}

const rigOf = ({ recordings }: OpenStudy): string | null => rigOfControl(recordings)
