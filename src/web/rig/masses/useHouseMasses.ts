import { useQuery, useQueryClient } from '@tanstack/react-query'
import { useMemo, useRef } from 'react'
import type { Mass } from '../../../core/calibration/references.ts'
import type { Reference } from '../../../core/calibration/referencesDocument.ts'
import { useBench } from '../../app/context.tsx'
import { useFoot } from '../../app/undo.tsx'
import { KEYS, useChange } from '../../data/queries.ts'
import { texts } from '../../texts/index.ts'
import { type HouseMasses, houseMassesFrom, massMap, referencesDocument } from './masses.ts'

const NAME = 'references'

interface Wish {
  readonly value: unknown
  /** What was there when it was wished; `null` for nothing. */
  readonly basedOn: unknown
}

/**
 * The household masses, kept once for all rigs and studies. Changes are written one after another, each from what the
 * one before left; what was changed elsewhere in between is told, and nothing is written over it.
 */
export function useHouseMasses() {
  const { backend } = useBench()
  const foot = useFoot()
  const client = useQueryClient()
  const { data } = useQuery({ queryKey: KEYS.settings, queryFn: () => backend.settings.all() })
  const references = useMemo(() => houseMassesFrom(data?.[NAME]), [data])
  const masses = useMemo(() => massMap(references), [references])
  const keeping = useChange((to, { value, basedOn }: Wish) => to.settings.set(NAME, value, basedOn))
  const last = useRef<Promise<unknown>>(Promise.resolve())

  /** Settles with what takes the change back; rejects when it was not kept. */
  const change = (changed: (now: HouseMasses) => HouseMasses): Promise<() => Promise<void>> => {
    const next = last.current.then(async () => {
      const before = client.getQueryData<Record<string, unknown>>(KEYS.settings)?.[NAME] ?? null
      const after = referencesDocument(changed(houseMassesFrom(before)))
      await keeping.mutateAsync({ value: after, basedOn: before })
      return () => keeping.mutateAsync({ value: before, basedOn: after })
    })
    last.current = next.catch(() => {})
    return next
  }
  return {
    masses,
    list: [...masses.values()] as readonly Mass[],
    error: keeping.error,
    add: (name: string, reference: Reference): Promise<boolean> =>
      change(now => ({ ...now, [name]: reference })).then(
        () => true,
        () => false,
      ),
    remove(name: string) {
      change(({ [name]: _, ...others }) => others).then(
        takeBack => foot.did(texts.rig.didRemoveMass(name), takeBack),
        // Told beside the list by `error`.
        () => {},
      )
    },
  }
}
export type HouseMassesKept = ReturnType<typeof useHouseMasses>
