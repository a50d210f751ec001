import { useQueries, useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { Comparison } from '../../../core/statistics/document.ts'
import type { TimeLine } from '../../../core/statistics/timeLine/document.ts'
import {
  type ControlSpecimen,
  rigOfControl,
  timeLineOfControl,
} from '../../../core/statistics/timeLine/ofStudies.ts'
import { keptReading } from '../../../core/statistics/timeLine/readAgain.ts'
import { useBench } from '../../app/context.tsx'
import type { OpenStudy } from '../../data/backend.ts'
import { KEYS } from '../../data/queries.ts'
import { checksOf } from '../../rig/check/checkNow.ts'
import { namesOf } from '../comparedStudies.ts'

/** The line of the control variant of the first study, with those of the same name in the others; `control` is `null` where none is marked. */
export function useTimeLine(
  opens: readonly OpenStudy[],
  comparison: Comparison,
): { readonly line: TimeLine | null; readonly control: string | null; readonly error: unknown } {
  const { backend } = useBench()
  const control = opens[0]?.variants.find(variant => variant.control)?.name ?? null
  const specimens = useMemo(() => controlSpecimens(opens, control), [opens, control])
  const rigId = rigOfControl(specimens)
  const histories = useQueries({
    queries: specimens.map(({ id }) => ({
      queryKey: KEYS.history(id),
      queryFn: () => backend.readings.history(id),
    })),
  })
  const checks = useQuery({
    queryKey: [...KEYS.checks, rigId],
    queryFn: () => backend.checks.list(rigId ?? undefined),
    enabled: rigId !== null,
  })
  const isReady = histories.every(({ isSuccess }) => isSuccess) && (rigId === null || checks.isSuccess)
  const error = [...histories, checks].find(query => query.error)?.error ?? null
  const line =
    control === null || !isReady
      ? null
      : timeLineOfControl(comparison, {
          control,
          kept: specimens.map((one, i) => ({
            ...one,
            readings: (histories[i]?.data ?? []).map(keptReading),
          })),
          checks: rigId === null ? [] : checksOf(checks.data ?? []),
        })
  return { line, control, error }
}

/** Under the names that the comparison gives them. */
function controlSpecimens(
  opens: readonly OpenStudy[],
  control: string | null,
): (Omit<ControlSpecimen, 'readings'> & { readonly id: string })[] {
  const names = namesOf(opens)
  return opens.flatMap(({ variants, specimens, recordings }) => {
    const own = new Set(variants.filter(({ name }) => name === control).map(({ id }) => id))
    return specimens.flatMap(({ id, variantId }) => {
      const named = names.find(one => one.id === id)
      if (variantId === null || !own.has(variantId) || named === undefined) return []
      const first = recordings.find(one => one.specimen?.id === id && one.setAside === null)
      return [{ id, group: named.group, name: named.name, rigId: first?.rigId ?? null }]
    })
  })
}
